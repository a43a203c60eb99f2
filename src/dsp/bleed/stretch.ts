import { energy } from './arithmetic.ts';

/** A take longer than this is a piece: rooms and corrections are learnt on its loudest minute. */
const LONG_SEC = 90;
const LEARNT_SEC = 60;

export const isLong = (length: number, rate: number): boolean => length > LONG_SEC * rate;

/** Samples `from` … `to` of a take. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

/**
 * What of a take is learnt from: all of it, and of one longer than a minute and a half the minute in which most was sent. A
 * minute holds all that can be known of a room, and five of them would be waited for.
 * @param sent what the loudspeaker was given, mono at `rate`
 * @param length of the take, samples, where it is not that of `sent`
 */
export function learntStretch(sent: Float64Array, rate: number, length = sent.length): Stretch {
  if (!isLong(Math.min(length, sent.length), rate)) return { from: 0, to: length };
  const seconds = Math.floor(Math.min(length, sent.length) / rate);
  const energies = Array.from({ length: seconds }, (_, s) => energy(sent.subarray(s * rate, (s + 1) * rate)));
  let sum = energies.slice(0, LEARNT_SEC).reduce((a, b) => a + b, 0);
  let [most, at] = [sum, 0];
  for (let s = 1; s + LEARNT_SEC <= seconds; s++) {
    sum += energies[s + LEARNT_SEC - 1]! - energies[s - 1]!;
    if (sum > most) [most, at] = [sum, s];
  }
  return { from: at * rate, to: (at + LEARNT_SEC) * rate };
}

/** Of a piece, lags are measured in so many stretches, evenly over it, each so long. */
const LOOKS = 60;
const LOOK_SEC = 2;

/** The stretches of a recording in which it is compared with what was sent: all of a take, of a longer one samples of it. */
export function comparedStretches(length: number, rate: number): Stretch[] {
  if (!isLong(length, rate)) return [{ from: 0, to: length }];
  const step = Math.floor((length - LOOK_SEC * rate) / (LOOKS - 1));
  return Array.from({ length: LOOKS }, (_, i) => ({ from: i * step, to: i * step + LOOK_SEC * rate }));
}

/** How many steps of a take become one, so that a long one has about as many of them as one of a minute and a half. */
export const sparser = (length: number, rate: number): number =>
  Math.max(1, Math.round(length / rate / LONG_SEC));

/** A piece is heard in parts so long, seconds, each with what lies around it: what rang before, how its last note dies away. */
const PART_SEC = 50;
const BEFORE_SEC = 1;
const AFTER_SEC = 3;

/** A part of a take, `from` … `to`, with what around it is looked at too, `first` … `last`; samples. */
export interface Part extends Stretch {
  readonly first: number;
  readonly last: number;
}

/** In which parts a take is heard: a piece in several, any other in one. Their bounds lie on whole seconds. */
export function heardParts(length: number, rate: number): Part[] {
  if (!isLong(length, rate)) return [{ from: 0, to: length, first: 0, last: length }];
  const count = Math.ceil(length / (PART_SEC * rate));
  return Array.from({ length: count }, (_, i) => {
    const from = i * PART_SEC * rate;
    const to = i + 1 === count ? length : (i + 1) * PART_SEC * rate;
    return {
      ...{ from, to },
      first: Math.max(0, from - BEFORE_SEC * rate),
      last: Math.min(length, to + AFTER_SEC * rate),
    };
  });
}
