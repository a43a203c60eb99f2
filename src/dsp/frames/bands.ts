/**
 * A bank of overlapping triangles over FFT bins: band b weighs the bins from start[b] on with
 * weights[from[b]] … weights[from[b + 1] − 1].
 */
export interface TriangleBank {
  readonly start: Int32Array;
  /** One entry more than there are bands. */
  readonly from: Int32Array;
  readonly weights: Float64Array;
}

/**
 * Triangular filters with centres `perOctave` to the octave between two frequencies, each reaching to its
 * neighbours' centres. Centres that fall on the same bin are merged, so low bands are one bin wide
 * (Böck & Widmer, DAFx 2013, section 3.2). Weights of a band add up to 1.
 */
export function triangles(
  size: number,
  sampleRate: number,
  lowHz: number,
  highHz: number,
  perOctave: number,
): TriangleBank {
  const centres: number[] = [];
  const binHz = sampleRate / size;
  const top = Math.min(highHz, sampleRate / 2 - binHz);
  for (let i = 0; ; i++) {
    const hertz = lowHz * 2 ** (i / perOctave);
    if (hertz > top) break;
    const bin = Math.round(hertz / binHz);
    if (bin !== centres[centres.length - 1]) centres.push(bin);
  }
  const start = new Int32Array(centres.length - 2);
  const from = new Int32Array(start.length + 1);
  const weights: number[] = [];
  for (let b = 0; b + 2 < centres.length; b++) {
    const [low, mid, high] = [centres[b]!, centres[b + 1]!, centres[b + 2]!];
    const row: number[] = [];
    let sum = 0;
    for (let bin = low + 1; bin < high; bin++) {
      const w = bin <= mid ? (bin - low) / (mid - low) : (high - bin) / (high - mid);
      row.push(w);
      sum += w;
    }
    start[b] = low + 1;
    for (const w of row) weights.push(w / sum);
    from[b + 1] = weights.length;
  }
  return { start, from, weights: Float64Array.from(weights) };
}
