import { INSTRUMENT_LINE } from '../decision/lines.ts';
import { probability } from '../decision/line.ts';

/** Probability, 0…1, that what was heard is a plucked string; features as `evidence` gives them. */
export const instrumentProbability = (evidence: Float64Array): number =>
  probability(INSTRUMENT_LINE, evidence);
