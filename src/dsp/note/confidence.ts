import { CONFIDENCE_LINE } from '../decision/lines.ts';
import { probability } from '../decision/line.ts';

/** What a note's confidence is made from. */
export interface Certainty {
  /** Probability of the pluck, 0…1. */
  readonly probability: number;
  /** Mean gated salience at its pitch, 0…1. */
  readonly salience: number;
  /** Pitch score over the next best pitch's. */
  readonly margin: number;
}

/** Keeps the odds finite. */
const LEAST = 1e-3;

/** The features of {@link CONFIDENCE_LINE}. */
export const certaintyFeatures = ({ probability: p, salience, margin }: Certainty): number[] => [
  Math.log((p + LEAST) / (1 - p + LEAST)),
  Math.log(0.03 + salience),
  Math.min(6, margin),
];

/** Probability that a note is one and has this pitch: of those said to be 0.9 sure about nine in ten are right. */
export const noteConfidence = (note: Certainty): number =>
  probability(CONFIDENCE_LINE, certaintyFeatures(note));
