import { createCorrelator } from './convolve.ts';
import { multiply, powerOfTwo, realInverse, realSpectrum } from './bigFft.ts';

/** Diagonal load of the normal equations, as a share of r[0]: bounds the response where the backing is silent. */
const LOAD = 1e-4;
/** Conjugate-gradient steps; the residual is under −50 dB of its start after about 60 (measured in tests). */
const STEPS = 80;

/** Solves a symmetric positive-definite Toeplitz system by preconditioned conjugate gradients
 * (Chan & Ng, "Conjugate gradient methods for Toeplitz systems", SIAM Review 1996; T. Chan's
 * circulant preconditioner). `column` is the matrix's first column. */
export function solveToeplitz(column: Float64Array, right: Float64Array, steps = STEPS): Float64Array {
  const n = column.length;
  const size = powerOfTwo(2 * n);
  const embedded = new Float64Array(size);
  embedded.set(column);
  for (let k = 1; k < n; k++) embedded[size - k] = column[k]!;
  const matrix = realSpectrum(embedded, size);
  const apply = (v: Float64Array): Float64Array =>
    realInverse(multiply(realSpectrum(v, size), matrix)).subarray(0, n);

  return conjugateGradient(apply, right, steps, circulant(column));
}

/**
 * Divides by T. Chan's circulant nearest to the symmetric Toeplitz matrix of a first column: a preconditioner.
 * @param least eigenvalues are raised to this; by default to a billionth of the largest
 */
export function circulant(column: Float64Array, least = 0): (v: Float64Array) => Float64Array {
  const n = column.length;
  const size = powerOfTwo(n) === n ? n : powerOfTwo(2 * n);
  const circle = new Float64Array(size);
  for (let k = 0; k < n; k++) {
    const weight = (n - k) / n;
    circle[k]! += weight * column[k]!;
    if (k > 0) circle[size - k]! += weight * column[k]!;
  }
  const eigen = realSpectrum(circle, size);
  let largest = 0;
  for (let i = 0; i < eigen.length; i += 2) largest = Math.max(largest, eigen[i]!);
  const inverse = new Float64Array(eigen.length);
  for (let i = 0; i < eigen.length; i += 2)
    inverse[i] = 1 / Math.max(eigen[i]!, least, largest * 1e-9 + 1e-300);
  return (v) => realInverse(multiply(realSpectrum(v, size), inverse)).subarray(0, n);
}

/** Conjugate gradients from zero; stops early at −80 dB of the starting residual. */
export function conjugateGradient(
  apply: (v: Float64Array) => Float64Array,
  right: Float64Array,
  steps: number,
  precondition: (v: Float64Array) => Float64Array = (v) => v.slice(),
): Float64Array {
  const n = right.length;
  const x = new Float64Array(n);
  const r = right.slice();
  let z = precondition(r);
  const p = z.slice();
  let rz = dot(r, z);
  const stop = dot(right, right) * 1e-8;
  for (let step = 0; step < steps && rz > 0; step++) {
    const ap = apply(p);
    const curvature = dot(p, ap);
    if (!(curvature > 0)) break;
    const alpha = rz / curvature;
    for (let i = 0; i < n; i++) {
      x[i]! += alpha * p[i]!;
      r[i]! -= alpha * ap[i]!;
    }
    if (dot(r, r) < stop) break;
    z = precondition(r);
    const next = dot(r, z);
    const beta = next / rz;
    rz = next;
    for (let i = 0; i < n; i++) p[i] = z[i]! + beta * p[i]!;
  }
  return x;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

/**
 * The room: the response h of `taps` samples that best explains `y` as h ∗ `x` (least squares,
 * autocorrelation method). Both whitened by the microphone's own predictor, so that loud low notes do not
 * outvote the highs; equal lengths, one rate, already aligned to within `taps`.
 */
export function learnRoom(y: Float64Array, x: Float64Array, taps: number): Float64Array {
  const withSent = createCorrelator(x, taps);
  const column = withSent.correlate(x);
  const right = withSent.correlate(y);
  column[0] = column[0]! * (1 + LOAD) + 1e-20;
  return solveToeplitz(column, right);
}
