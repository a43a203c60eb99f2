/** Centre of the burst that every sound file begins with, seconds from the first encoded sample. */
export const SYNC_SEC = 0.1;
/** The burst: 2 kHz (coded well at any bit rate) under a Gaussian of 1 ms, at −6 dBFS. */
const BURST_HZ = 2000;
const BURST_SIGMA_SEC = 0.001;
const BURST_PEAK = 0.5;
/** Sought from the file's start to here: encoder delays run to 50 ms either way. */
const SEARCH_SEC = 0.17;

/** The burst with the silence before it; {@link SYNC_SEC} + 10 ms long. */
export function syncBurst(sampleRate: number): Float32Array {
  return Float32Array.from({ length: Math.ceil((SYNC_SEC + 0.01) * sampleRate) }, (_, i) => {
    const t = i / sampleRate - SYNC_SEC;
    return BURST_PEAK * Math.exp(-0.5 * (t / BURST_SIGMA_SEC) ** 2) * Math.cos(2 * Math.PI * BURST_HZ * t);
  });
}

/**
 * Where a decoder put the burst's centre: the centroid of the energy, seconds from the first decoded sample.
 * @throws RangeError when the file does not begin with the burst.
 */
export function syncCentreSec(samples: Float32Array, sampleRate: number): number {
  const end = Math.min(samples.length, Math.round(SEARCH_SEC * sampleRate));
  let peak = 0;
  for (let i = 0; i < end; i++) if (Math.abs(samples[i]!) > Math.abs(samples[peak]!)) peak = i;
  if (Math.abs(samples[peak]!) < BURST_PEAK / 4)
    throw new RangeError('the sound file does not begin with its sync burst');
  const reach = Math.round(4 * BURST_SIGMA_SEC * sampleRate);
  let energy = 0;
  let moment = 0;
  for (let i = Math.max(0, peak - reach); i <= Math.min(end - 1, peak + reach); i++) {
    energy += samples[i]! ** 2;
    moment += i * samples[i]! ** 2;
  }
  return moment / energy / sampleRate;
}
