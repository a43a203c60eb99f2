import { upperMedian } from '../../music/numbers.ts';
import { WORK_RATE, ms } from '../signal/prepared.ts';
import { fineMidi } from '../pitch/fineTune.ts';
import type { Analysis } from '../hear/analysis.ts';
import type { NamedNote } from '../hear/name.ts';

/** What speaks for a take's being a plucked string, note by note put together. Order as {@link EVIDENCE}. */
export const EVIDENCE = [
  'probability',
  'salience',
  'margin',
  'unsteady',
  'doubt',
  'rate',
  'attack',
  'covered',
] as const;

/** Notes looked at for steadiness: enough for a median, few enough to cost nothing. */
const LOOKED_AT = 16;

const mean = (values: readonly number[]): number =>
  values.length > 0 ? values.reduce((a, b) => a + b, 0) / values.length : 0;

/**
 * @param probabilities of the analysis' candidates, in order
 * @param notes at least one
 */
export function evidence(
  analysis: Analysis,
  probabilities: ArrayLike<number>,
  notes: readonly NamedNote[],
): Float64Array {
  const { take, possible } = analysis;
  let doubt = 0;
  for (let i = 0; i < probabilities.length; i++) {
    const p = probabilities[i]!;
    doubt += 4 * p * (1 - p);
  }
  const step = Math.max(1, Math.ceil(notes.length / LOOKED_AT));
  const some = notes.filter((_, i) => i % step === 0);
  const steep = possible
    .filter((p) => notes.some((n) => n.at === p.attack.at))
    .map((p) => p.attack.steepDb / 10);
  let sounding = 0;
  for (const block of take.sounding) sounding += block;
  const seconds = Math.max(0.1, sounding * 0.02);
  const covered = notes.reduce((s, n) => s + n.end - n.at, 0) / WORK_RATE / seconds;
  return Float64Array.of(
    mean(notes.map((n) => n.probability)),
    mean(notes.map((n) => n.salience)),
    upperMedian(notes.map((n) => Math.min(6, n.margin))),
    Math.log(1 + upperMedian(some.map((n) => unsteadyCents(take.samples, n)))),
    Math.log(0.05 + doubt / (notes.length + 1)),
    Math.log(0.1 + notes.length / seconds),
    upperMedian(steep),
    Math.min(1.5, covered),
  );
}

/** How far the pitch moves from the note's first part (20–95 ms) to the next (95–170 ms), cents, at most 80. */
function unsteadyCents(samples: Float32Array, note: NamedNote): number {
  const first = fineMidi(samples, note.at, Math.min(note.end, note.at + ms(95)), note.midi);
  const second = fineMidi(samples, note.at + ms(75), Math.min(note.end, note.at + ms(170)), note.midi);
  return Math.abs(first - second) * 100;
}
