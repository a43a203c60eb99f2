import { accept } from '../decision/accept.ts';
import { FEATURES } from '../decision/features.ts';
import { createTrees } from '../decision/trees.ts';
import { PLUCK_TREES } from '../decision/weights.ts';
import { REFERENCE_RMS } from '../signal/prepared.ts';
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

/** Probability from which a candidate is a note. Under one half: F1's optimum lies below it (0.25…0.3 alike). */
const THRESHOLD = 0.3;
const decide = createTrees(PLUCK_TREES, FEATURES);

/** @param signal finite samples @param sampleRate 8000…192000 Hz, else RangeError */
export function hearSegment(signal: Float32Array, sampleRate: number): Segment {
  const analysis = analyse(toWorkRate(signal, sampleRate));
  const probabilities = Float64Array.from(analysis.possible, (p) => decide(p.features));
  const of = new Map(analysis.possible.map((p, i) => [p, probabilities[i]!]));
  const accepted = accept(analysis.possible, (p) => of.get(p)!, THRESHOLD);
  const notes = nameNotes(analysis, accepted);
  const { gain } = analysis.take;
  const gainDb = 20 * Math.log10(gain);
  return {
    notes: notes.map((note) => ({ ...note, levelDb: note.levelDb - gainDb })),
    evidence: notes.length > 0 ? evidence(analysis, probabilities, notes) : null,
    loudRms: gain === 1 ? 0 : REFERENCE_RMS / gain,
  };
}
