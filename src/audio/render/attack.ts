/** Length of the energy window, seconds: `notes.ts` defines the attack on 1 ms of energy. */
const WINDOW_SEC = 0.001;
/** The loudest of the attack is sought this long after the sound first comes near its loudest; plucks peak within 50 ms. */
const PEAK_SPAN_SEC = 0.05;
/**
 * A low string gives a pulse each period, all about as strong: the attack's peak is the first within 6 dB of
 * the strongest, followed for 2 ms to its top.
 */
const NEAR_RATIO = 0.25;
const PULSE_SEC = 0.002;
/** 20 dB under the attack's peak, as an energy ratio (definition in `notes.ts`). */
const START_RATIO = 0.01;
/** A quiet shorter than this is the wave of a low string crossing zero (0.8 ms at 41 Hz), not the silence before it. */
const QUIET_SEC = 0.003;

/**
 * The instant of attack of a lone sound, seconds from the first sample: the last instant before the
 * attack's peak at which the energy of the 1 ms centred on it is still 20 dB under that peak
 * (`notes.ts`). Null for silence.
 *
 * The peak is the first pulse within 6 dB of the largest 1 ms energy, taken over the 50 ms after the first one
 * within 12 dB of the overall largest, so that a swell later in the note does not move the attack.
 */
export function attackSec(samples: Float32Array, sampleRate: number): number | null {
  const half = Math.max(1, Math.round((WINDOW_SEC * sampleRate) / 2));
  const energy = new Float64Array(samples.length);
  let sum = 0;
  for (let i = 0; i < samples.length + half; i++) {
    if (i < samples.length) sum += samples[i]! ** 2;
    if (i >= 2 * half) sum -= samples[i - 2 * half]! ** 2;
    if (i >= half) energy[i - half] = sum;
  }
  let top = 0;
  for (const value of energy) top = Math.max(top, value);
  // −100 dBFS over the window: under the noise of any recorded sample.
  if (top < 2 * half * 1e-10) return null;
  const first = energy.findIndex((value) => value >= top / 16);
  const span = energy.subarray(first, first + Math.round(PEAK_SPAN_SEC * sampleRate));
  const strongest = span.reduce((most, value) => Math.max(most, value), 0);
  const near = first + span.findIndex((value) => value >= strongest * NEAR_RATIO);
  let peak = near;
  for (let i = near; i < near + PULSE_SEC * sampleRate && i < energy.length; i++)
    if (energy[i]! > energy[peak]!) peak = i;
  const quiet = Math.round(QUIET_SEC * sampleRate);
  let start = 0;
  for (let i = peak, run = 0; i >= 0 && run < quiet; i--) {
    run = energy[i]! > energy[peak]! * START_RATIO ? 0 : run + 1;
    if (run === 1) start = i;
  }
  return start / sampleRate;
}
