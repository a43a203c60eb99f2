/**
 * A fitted decision: logistic regression on standardised features, their squares and their products.
 * Made by `src/training`, kept as data in `weights.ts`.
 */
export interface Model {
  /** Names of the features, in order; only to be read by people and checked by a test. */
  readonly names: readonly string[];
  readonly means: readonly number[];
  readonly deviations: readonly number[];
  readonly bias: number;
  /** One for each feature, then one for each pair i ≤ j in order (0,0), (0,1) … (n−1,n−1). */
  readonly weights: readonly number[];
}

/** Standardised features are clipped here: beyond it a fit has seen next to nothing. */
const CLIP = 4;

/** Number of terms of a model over `count` features. */
export const termCount = (count: number): number => count + (count * (count + 1)) / 2;

/** Standardised, clipped features followed by all their pairwise products. */
export function terms(
  features: ArrayLike<number>,
  means: ArrayLike<number>,
  deviations: ArrayLike<number>,
  out: Float64Array,
): Float64Array {
  const n = means.length;
  for (let i = 0; i < n; i++) {
    const z = (features[i]! - means[i]!) / deviations[i]!;
    out[i] = Math.min(CLIP, Math.max(-CLIP, z));
  }
  let at = n;
  for (let i = 0; i < n; i++) for (let j = i; j < n; j++) out[at++] = out[i]! * out[j]!;
  return out;
}

/** A function giving the probability (0…1) for a feature vector; it keeps one scratch array. */
export function createDecision(model: Model): (features: ArrayLike<number>) => number {
  const scratch = new Float64Array(termCount(model.means.length));
  if (model.weights.length !== scratch.length)
    throw new RangeError(
      `a model over ${model.means.length} features needs ${scratch.length} weights, got ${model.weights.length}`,
    );
  return (features) => {
    terms(features, model.means, model.deviations, scratch);
    let sum = model.bias;
    for (let i = 0; i < scratch.length; i++) sum += scratch[i]! * model.weights[i]!;
    return 1 / (1 + Math.exp(-sum));
  };
}
