import { accept } from '../decision/accept.ts';
import { createLooks } from '../decision/looks.ts';
import { FIRST_LOOK, SECOND_LOOK } from '../decision/weights.ts';
import type { PitchRange } from '../note/range.ts';
import { REFERENCE_RMS, WORK_RATE } from '../signal/prepared.ts';
import { evidence } from '../verdict/evidence.ts';
import { analyse } from './analysis.ts';
import { nameNotes } from './name.ts';
import type { NamedNote } from './name.ts';
import { toWorkRate } from './toWorkRate.ts';

/** A stretch of a take, heard. */
export interface Segment {
  /** In order; times in samples at the working rate from the stretch's start, levels of the input. */
  readonly notes: readonly NamedNote[];
  /** What speaks for a plucked string, see `EVIDENCE`; null without notes. */
  readonly evidence: Float64Array | null;
  /** RMS of the loud part of the input. */
  readonly loudRms: number;
}

/**
 * Probability from which a candidate is a note. Under one half, because F1's optimum lies below it: .9784, .9780 and
 * .9769 at .15, .2 and .25 with instruments that the decision never heard.
 */
export const THRESHOLD = 0.2;
const decide = createLooks({ first: FIRST_LOOK, second: SECOND_LOOK });

/** @param signal finite samples @param sampleRate 8000…192000 Hz, else RangeError @param range what the instrument can give */
export function hearSegment(signal: Float32Array, sampleRate: number, range: PitchRange): Segment {
  const analysis = analyse(toWorkRate(signal, sampleRate));
  const { possible } = analysis;
  const probabilities = decide(
    possible.map((p) => p.attack.at / WORK_RATE),
    possible.map((p) => p.features),
  );
  const of = new Map(possible.map((p, i) => [p, probabilities[i]!]));
  const accepted = accept(possible, (p) => of.get(p)!, THRESHOLD);
  const notes = nameNotes(analysis, accepted, { range, pitchless: 'kept' });
  const { gain } = analysis.take;
  const gainDb = 20 * Math.log10(gain);
  return {
    notes: notes.map((note) => ({ ...note, levelDb: note.levelDb - gainDb })),
    evidence: notes.length > 0 ? evidence(analysis, probabilities, notes) : null,
    loudRms: gain === 1 ? 0 : REFERENCE_RMS / gain,
  };
}
