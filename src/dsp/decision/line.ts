/** Logistic regression on standardised features: data, made by `src/training`. */
export interface Line {
  readonly names: readonly string[];
  readonly bias: number;
  readonly means: readonly number[];
  readonly deviations: readonly number[];
  readonly weights: readonly number[];
}

/** Probability, 0…1; features beyond four deviations count as four. */
export function probability(line: Line, features: ArrayLike<number>): number {
  let sum = line.bias;
  for (let i = 0; i < line.weights.length; i++) {
    const z = (features[i]! - line.means[i]!) / line.deviations[i]!;
    sum += line.weights[i]! * Math.max(-4, Math.min(4, z));
  }
  return 1 / (1 + Math.exp(-sum));
}
