/**
 * The instant of attack, as the whole project understands it (see `HeardNote.onsetSec`): the last point
 * before the attack's peak at which the 1 ms RMS envelope is still 20 dB under that peak.
 *
 * A low string's envelope dips by more than 20 dB inside each period (E1 has one of 24 ms), so "still"
 * needs the envelope to have stayed under for {@link STAYS_UNDER_SEC}: without it the measured instant of
 * a bass E1 landed one to three periods late (35 → 105 ms in the recording).
 */
const WINDOW_SEC = 0.001;
const UNDER_PEAK = 10 ** (-20 / 20);
/** Longer than the period of the lowest note used, C#1 at 28.9 ms. */
const STAYS_UNDER_SEC = 0.03;
/** The peak is looked for this long after a quarter of the maximum is first reached: a later swell is not the attack. */
const PEAK_WITHIN_SEC = 0.03;

/** RMS over 1 ms centred on every sample; same length as `pcm`, amplitude units. */
export function envelope(pcm: Float32Array, sampleRate: number): Float32Array {
  const half = Math.max(1, Math.round((WINDOW_SEC * sampleRate) / 2));
  const sums = new Float64Array(pcm.length + 1);
  for (let i = 0; i < pcm.length; i++) sums[i + 1] = sums[i]! + pcm[i]! * pcm[i]!;
  const out = new Float32Array(pcm.length);
  for (let i = 0; i < pcm.length; i++) {
    const from = Math.max(0, i - half);
    const to = Math.min(pcm.length, i + half);
    out[i] = Math.sqrt(Math.max(0, sums[to]! - sums[from]!) / (2 * half));
  }
  return out;
}

/** Index of the attack of the one note in `pcm`, in whole samples. Throws `RangeError` on silence. */
export function attackIndex(pcm: Float32Array, sampleRate: number): number {
  const env = envelope(pcm, sampleRate);
  let top = 0;
  for (const value of env) if (value > top) top = value;
  if (top === 0) throw new RangeError('no attack in a silent recording');
  const loud = env.findIndex((value) => value >= top / 4);
  const end = Math.min(env.length, loud + Math.round(PEAK_WITHIN_SEC * sampleRate));
  let peak = loud;
  for (let i = loud; i < end; i++) if (env[i]! > env[peak]!) peak = i;
  const threshold = env[peak]! * UNDER_PEAK;
  const stays = Math.round(STAYS_UNDER_SEC * sampleRate);
  let last = peak;
  for (let i = peak; i >= 0 && last - i <= stays; i--) if (env[i]! > threshold) last = i;
  return Math.max(0, last - 1);
}
