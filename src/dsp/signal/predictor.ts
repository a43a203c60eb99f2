/**
 * Linear prediction by the autocorrelation method (Makhoul, "Linear prediction: a tutorial review",
 * Proc. IEEE 1975): Levinson–Durbin recursion on the Hann-free long-term autocorrelation.
 * @param white share of white noise added, which keeps the recursion stable on band-limited input (1e-6: −60 dB)
 * @returns the inverse filter 1, a₁ … a_order.
 */
export function predictor(signal: ArrayLike<number>, order: number, white = 1e-6): Float64Array {
  const r = new Float64Array(order + 1);
  for (let k = 0; k <= order; k++) {
    let sum = 0;
    for (let n = k; n < signal.length; n++) sum += signal[n]! * signal[n - k]!;
    r[k] = sum;
  }
  const a = new Float64Array(order + 1);
  a[0] = 1;
  let error = r[0]! * (1 + white) + 1e-30;
  for (let i = 1; i <= order; i++) {
    let acc = r[i]!;
    for (let j = 1; j < i; j++) acc += a[j]! * r[i - j]!;
    const k = -acc / error;
    const before = a.slice();
    for (let j = 1; j < i; j++) a[j] = before[j]! + k * before[i - j]!;
    a[i] = k;
    error *= 1 - k * k;
  }
  return a;
}

/** y[n] = Σ a[k] x[n − k], same length: whitens what `predictor` was fitted on. */
export function inverseFilter(signal: ArrayLike<number>, a: Float64Array): Float64Array {
  const out = new Float64Array(signal.length);
  const order = a.length - 1;
  for (let n = 0; n < out.length; n++) {
    if (n < order || n + 4 > out.length) {
      const most = Math.min(order, n);
      let sum = 0;
      for (let k = 0; k <= most; k++) sum += a[k]! * signal[n - k]!;
      out[n] = sum;
      continue;
    }
    // Four sums do not wait for one another's additions.
    let s0 = 0;
    let s1 = 0;
    let s2 = 0;
    let s3 = 0;
    for (let k = 0; k <= order; k++) {
      const weight = a[k]!;
      s0 += weight * signal[n - k]!;
      s1 += weight * signal[n + 1 - k]!;
      s2 += weight * signal[n + 2 - k]!;
      s3 += weight * signal[n + 3 - k]!;
    }
    out[n] = s0;
    out[n + 1] = s1;
    out[n + 2] = s2;
    out[n + 3] = s3;
    n += 3;
  }
  return out;
}
