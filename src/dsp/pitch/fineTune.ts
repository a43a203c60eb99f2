import { correlations } from '../signal/correlations.ts';
import { ms, WORK_RATE } from '../signal/prepared.ts';

/**
 * Fundamental frequency of a note whose semitone is known, as a fractional MIDI number.
 *
 * Autocorrelation at the full rate is asked for the lag of several whole periods near the expected one, with a
 * parabola through its top; more periods, less error. The number of periods doubles while the longer lag
 * agrees with what is known.
 *
 * @param x samples at the working rate @param at where the note begins @param until where it ends
 * @param midi expected pitch; the answer lies within 80 cents of it, or is `midi` where nothing is periodic
 */
export function fineMidi(x: Float32Array, at: number, until: number, midi: number): number {
  const from = Math.round(at + ms(20));
  const to = Math.min(x.length, Math.round(Math.min(until, at + ms(320))));
  const expected = WORK_RATE / (440 * 2 ** ((midi - 69) / 12));
  let lag = expected;
  let span = 2 ** (80 / 1200);
  let found = false;
  for (let periods = 1; ; periods *= 2) {
    const low = Math.max(2, Math.floor((lag * periods) / span));
    const high = Math.ceil(lag * periods * span);
    const width = Math.min(to - from - high - 1, Math.round(ms(periods === 1 ? 45 : 120)));
    if (width < Math.max(ms(12), 1.2 * expected)) break;
    const best = bestLag(x, from, width, low, high);
    if (best === null) break;
    found = true;
    lag = best / periods;
    // In noise 20 dB under it a pure tone's top is known to two samples; half as much again for safety.
    span = 1 + 3 / (lag * periods);
    if (periods >= 16) break;
  }
  const answer = 69 + 12 * Math.log2(WORK_RATE / lag / 440);
  return found && Math.abs(answer - midi) <= 0.8 ? answer : midi;
}

/** Lag of the greatest normalised correlation between `low` and `high`; null if it is no inner maximum. */
function bestLag(x: Float32Array, from: number, width: number, low: number, high: number): number | null {
  const count = high - low + 1;
  const values = new Float64Array(count);
  correlations(x, from, from + low, width, count, 1e-20, values);
  let top = 0;
  for (let k = 1; k < count; k++) if (values[k]! > values[top]!) top = k;
  if (top === 0 || top === count - 1 || values[top]! < 0.3) return null;
  const a = values[top - 1]!;
  const b = values[top]!;
  const c = values[top + 1]!;
  const curve = a - 2 * b + c;
  return low + top + (curve < 0 ? (0.5 * (a - c)) / curve : 0);
}
