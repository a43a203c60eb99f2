import { PitchDetector } from 'pitchy';

/** Windows are read from here to there after the attack: past the pick, before the decay thins out. */
const FROM_SEC = 0.08;
const TO_SEC = 0.6;
/** A pack's name is wrong, not merely detuned, beyond this. */
const FARTHEST_SEMITONES = 0.3;

/**
 * The pitch a recording really sounds at: median over windows of at least four periods.
 *
 * @param written the semitone its name says; throws `RangeError` when the sound is not within 30 cents of it
 */
export function measuredMidi(pcm: Float32Array, sampleRate: number, attack: number, written: number): number {
  const size = written < 36 ? 8192 : written < 60 ? 4096 : 2048;
  const detector = PitchDetector.forFloat32Array(size);
  const found: number[] = [];
  const to = Math.min(pcm.length - size, attack + TO_SEC * sampleRate);
  for (let at = attack + Math.round(FROM_SEC * sampleRate); at <= to; at += size / 2) {
    const [frequency, clarity] = detector.findPitch(pcm.subarray(at, at + size), sampleRate);
    if (clarity > 0.8) found.push(69 + 12 * Math.log2(frequency / 440));
  }
  const near = found.filter((m) => Math.abs(m - written) < 1).sort((a, b) => a - b);
  const median = near[near.length >> 1] ?? NaN;
  if (!(Math.abs(median - written) < FARTHEST_SEMITONES))
    throw new RangeError(`recording named MIDI ${written} sounds at ${median}`);
  return median;
}
