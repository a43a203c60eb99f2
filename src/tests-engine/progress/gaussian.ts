/**
 * A Gaussian belief about the weights of a logistic regression, updated one observation at a time.
 *
 * Model: P(right) = σ(Σ w_i over the active i). Belief: w ~ N(mean, cov). An observation's likelihood
 * depends on one number, η = Σ w_i, so the posterior's mode lies on the line mean + cov·x·t and is found
 * by Newton's method in one dimension; the curvature there gives the new covariance (Laplace's
 * approximation). Done in sequence this is the assumed-density filter of Spiegelhalter & Lauritzen 1990
 * ("Sequential updating of conditional probabilities on directed graphical structures", §4, logistic case),
 * with the dynamic part of West, Harrison & Migon 1985 ("Dynamic generalized linear models and Bayesian
 * forecasting"): between attempts the belief relaxes towards the prior.
 */
export interface Belief {
  readonly size: number;
  readonly mean: Float64Array;
  /** Row by row, size × size, symmetric. */
  readonly cov: Float64Array;
}

export function belief(means: readonly number[], sds: readonly number[]): Belief {
  if (means.length !== sds.length)
    throw new RangeError(`as many means as s.d. are needed, got ${means.length} and ${sds.length}`);
  const size = means.length;
  const cov = new Float64Array(size * size);
  sds.forEach((sd, i) => (cov[i * size + i] = sd * sd));
  return { size, mean: Float64Array.from(means), cov };
}

export const logistic = (x: number): number => 1 / (1 + Math.exp(-x));
export const logit = (p: number): number => Math.log(p / (1 - p));

/** Mean and variance of η for a set of active weights. */
export function predictor(of: Belief, active: readonly number[]): { mean: number; variance: number } {
  let mean = 0;
  let variance = 0;
  for (const i of active) {
    mean += of.mean[i]!;
    for (const j of active) variance += of.cov[i * of.size + j]!;
  }
  return { mean, variance };
}

/** E σ(η) for η ~ N(mean, variance), to within 0.02: MacKay 1992, "The evidence framework", eq. 10. */
export const expectedLogistic = (mean: number, variance: number): number =>
  logistic(mean / Math.sqrt(1 + (Math.PI / 8) * variance));

/**
 * Takes one observation in, changing `of` in place. `active`: indexes whose x is 1; `offset`: a known
 * number added to η.
 */
export function observe(of: Belief, active: readonly number[], right: boolean, offset = 0): void {
  const { size, mean, cov } = of;
  // Row j stands for column j: the covariance is symmetric, and rows lie together in memory.
  const gain = new Float64Array(size);
  for (const j of active) for (let i = 0, at = j * size; i < size; i++, at++) gain[i]! += cov[at]!;
  let prior = 0;
  let variance = 0;
  for (const i of active) {
    prior += mean[i]!;
    variance += gain[i]!;
  }
  if (!(variance > 0)) return;
  // Newton on f(η) = (η − prior)/variance − (y − σ(η)): convex loss, 8 steps reach 1e-12 for variance < 20.
  let eta = prior;
  for (let step = 0; step < 8; step++) {
    const p = logistic(eta + offset);
    const by = ((eta - prior) / variance - (Number(right) - p)) / (1 / variance + p * (1 - p));
    eta -= by;
    if (Math.abs(by) < 1e-9) break;
  }
  const p = logistic(eta + offset);
  const weight = p * (1 - p);
  const shift = (eta - prior) / variance;
  const shrink = weight / (1 + weight * variance);
  for (let i = 0, at = 0; i < size; i++) {
    mean[i]! += gain[i]! * shift;
    const scaled = gain[i]! * shrink;
    for (let j = 0; j < size; j++, at++) cov[at]! -= scaled * gain[j]!;
  }
}

/**
 * Lets the belief relax towards its prior by the share `forget` (0 = not at all, 1 = wholly): an
 * Ornstein–Uhlenbeck step, w ← prior + a (w − prior) + noise with a = 1 − forget, whose noise is such that
 * the prior's variance is what an unseen weight ends at.
 */
export function relax(of: Belief, prior: Belief, forget: number): void {
  const a = 1 - forget;
  for (let i = 0; i < of.size; i++) of.mean[i] = prior.mean[i]! + a * (of.mean[i]! - prior.mean[i]!);
  for (let i = 0; i < of.cov.length; i++) of.cov[i] = prior.cov[i]! + a * a * (of.cov[i]! - prior.cov[i]!);
}

/** Sets one weight back to N(0, variance), uncorrelated: for an effect that lasts one attempt only. */
export function renew(of: Belief, index: number, variance: number): void {
  of.mean[index] = 0;
  for (let j = 0; j < of.size; j++) of.cov[index * of.size + j] = of.cov[j * of.size + index] = 0;
  of.cov[index * of.size + index] = variance;
}
