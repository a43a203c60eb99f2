/** One finger a fret: the hand covers four frets without moving (the usual position playing of both instruments). */
export const HAND_FRETS = 4;

export interface Place {
  /** 1 = the highest string. */
  readonly string: number;
  readonly fret: number;
}

/**
 * Every pitch under the hand with the index finger at `fret`: frets fret…fret+3 of each string, and the
 * open strings when the hand is at fret 1. A pitch within reach on two strings is taken on the higher one,
 * whose fret is the lower.
 * @param strings sounding MIDI numbers, lowest string first; @returns places by MIDI number.
 */
export function underTheHand(strings: readonly number[], fret: number): ReadonlyMap<number, Place> {
  let known = cache.get(strings);
  if (!known) cache.set(strings, (known = []));
  return (known[fret] ??= placesAt(strings, fret));
}
const cache = new WeakMap<readonly number[], ReadonlyMap<number, Place>[]>();

function placesAt(strings: readonly number[], fret: number): ReadonlyMap<number, Place> {
  const places = new Map<number, Place>();
  strings.forEach((open, i) => {
    const string = strings.length - i;
    if (fret === 1) places.set(open, { string, fret: 0 });
    for (let f = fret; f < fret + HAND_FRETS; f++) places.set(open + f, { string, fret: f });
  });
  return places;
}

/**
 * As {@link underTheHand}, and with the little finger stretched by one fret where a pitch lies between two strings: from
 * the lowest to the highest note no semitone is left out on strings a fourth apart.
 */
export function stretchedHand(strings: readonly number[], fret: number): ReadonlyMap<number, Place> {
  const places = new Map(underTheHand(strings, fret));
  strings.forEach((open, i) => {
    const reached = open + fret + HAND_FRETS;
    if (!places.has(reached)) places.set(reached, { string: strings.length - i, fret: fret + HAND_FRETS });
  });
  return places;
}

/** A hand position that holds a whole melody's range. */
export interface Layout {
  readonly position: number;
  readonly tonicMidi: number;
  readonly places: ReadonlyMap<number, Place>;
}

/**
 * Every position in which a tonic and all `offsets` from it lie under the hand.
 * @param tonicPc 0…11, C = 0; @param positions lowest and highest fret of the index finger.
 */
export function layouts(
  strings: readonly number[],
  tonicPc: number,
  offsets: readonly number[],
  positions: readonly [number, number],
  hand = underTheHand,
): readonly Layout[] {
  const found: Layout[] = [];
  for (let position = positions[0]; position <= positions[1]; position++) {
    const places = hand(strings, position);
    for (let tonicMidi = tonicPc; tonicMidi <= 127; tonicMidi += 12)
      if (offsets.every((offset) => places.has(tonicMidi + offset)))
        found.push({ position, tonicMidi, places });
  }
  return found;
}
