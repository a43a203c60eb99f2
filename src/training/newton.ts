/**
 * A fitted logistic regression on standardised features, their squares and their products.
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
const termCount = (count: number): number => count + (count * (count + 1)) / 2;

/** Standardised, clipped features followed by all their pairwise products. */
function terms(
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

export interface Example {
  readonly features: ArrayLike<number>;
  /** 1 = yes. */
  readonly label: 0 | 1;
  readonly weight: number;
}

/** Solves A x = b for a symmetric positive definite A (row after row), by Cholesky; both are overwritten. */
function solve(a: Float64Array, b: Float64Array): Float64Array {
  const n = b.length;
  for (let j = 0; j < n; j++) {
    for (let k = 0; k < j; k++) {
      const l = a[j * n + k]!;
      if (l !== 0) for (let i = j; i < n; i++) a[i * n + j]! -= a[i * n + k]! * l;
    }
    const d = Math.sqrt(a[j * n + j]!);
    for (let i = j; i < n; i++) a[i * n + j]! /= d;
  }
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) b[i]! -= a[i * n + k]! * b[k]!;
    b[i]! /= a[i * n + i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) b[i]! -= a[k * n + i]! * b[k]!;
    b[i]! /= a[i * n + i]!;
  }
  return b;
}

/**
 * Logistic regression by Newton's method with ridge penalties: `ridge` on single features, `ridgeProducts` on
 * squares and products, none on the bias.
 */
export function fitLogistic(
  names: readonly string[],
  examples: readonly Example[],
  { ridge, ridgeProducts }: { readonly ridge: number; readonly ridgeProducts: number },
): Model {
  const n = names.length;
  const means = new Float64Array(n);
  const deviations = new Float64Array(n);
  let total = 0;
  for (const e of examples) {
    total += e.weight;
    for (let i = 0; i < n; i++) means[i]! += e.weight * e.features[i]!;
  }
  for (let i = 0; i < n; i++) means[i]! /= total;
  for (const e of examples)
    for (let i = 0; i < n; i++) deviations[i]! += e.weight * (e.features[i]! - means[i]!) ** 2;
  for (let i = 0; i < n; i++) deviations[i] = Math.sqrt(deviations[i]! / total) + 1e-6;

  const size = termCount(n) + 1;
  const rows = examples.map((e) => {
    const row = new Float64Array(size);
    terms(e.features, means, deviations, row);
    row[size - 1] = 1;
    return row;
  });
  const w = new Float64Array(size);
  const penalty = (i: number): number => (i === size - 1 ? 1e-6 : i < n ? ridge : ridgeProducts);
  for (let round = 0; round < 25; round++) {
    const hessian = new Float64Array(size * size);
    const gradient = new Float64Array(size);
    for (let i = 0; i < size; i++) {
      hessian[i * size + i] = penalty(i);
      gradient[i] = -penalty(i) * w[i]!;
    }
    examples.forEach((e, r) => {
      const row = rows[r]!;
      let z = 0;
      for (let i = 0; i < size; i++) z += w[i]! * row[i]!;
      const p = 1 / (1 + Math.exp(-z));
      const slope = e.weight * (e.label - p);
      const curve = e.weight * Math.max(1e-6, p * (1 - p));
      for (let i = 0; i < size; i++) {
        gradient[i]! += slope * row[i]!;
        const c = curve * row[i]!;
        if (c !== 0) for (let j = 0; j <= i; j++) hessian[i * size + j]! += c * row[j]!;
      }
    });
    const step = solve(hessian, gradient);
    let largest = 0;
    for (let i = 0; i < size; i++) {
      const move = Math.max(-2, Math.min(2, step[i]!));
      w[i]! += move;
      largest = Math.max(largest, Math.abs(move));
    }
    if (largest < 1e-4) break;
  }
  return {
    names,
    means: [...means],
    deviations: [...deviations],
    bias: w[size - 1]!,
    weights: [...w.subarray(0, size - 1)],
  };
}
