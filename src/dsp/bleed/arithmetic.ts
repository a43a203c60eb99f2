/**
 * Sums and differences of signals of minutes. Plain loops: what a callback gives back for each sample is an object of its own
 * wherever it is not inlined, a hundred megabytes a minute.
 */
export function sumOf(x: Float32Array | Float64Array): number {
  let sum = 0;
  for (let n = 0; n < x.length; n++) sum += x[n]!;
  return sum;
}

export function energy(x: Float64Array): number {
  let sum = 0;
  for (let n = 0; n < x.length; n++) sum += x[n]! * x[n]!;
  return sum;
}

/** a + share · b, sample by sample. */
export function plus(a: Float64Array, b: Float64Array, share = 1): Float64Array {
  const out = new Float64Array(a.length);
  for (let n = 0; n < out.length; n++) out[n] = a[n]! + share * b[n]!;
  return out;
}

/** a ← a + share · b from sample `at` on. */
export function addTo(a: Float64Array, b: Float64Array, share = 1, at = 0): void {
  for (let n = 0; n < b.length; n++) a[at + n]! += share * b[n]!;
}

/** a · b, sample by sample. */
export function times(a: Float64Array, b: Float64Array): Float64Array {
  const out = new Float64Array(a.length);
  for (let n = 0; n < out.length; n++) out[n] = a[n]! * b[n]!;
  return out;
}
