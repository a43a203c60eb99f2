import { PitchDetector } from 'pitchy';

/** Windows are read from here to there after the attack: past the pick, before the decay thins out. */
const FROM_SEC = 0.08;
const TO_SEC = 0.7;
/** Four periods of C#1 are 115 ms; longer windows only blur a decaying note. */
const WINDOW_SEC = 0.19;
/** A recording's name is wrong, not merely out of tune, beyond this. */
const FARTHEST_SEMITONES = 0.3;

/**
 * The pitch a recording really sounds at: the median over windows.
 *
 * @param written the semitone its name says, or null; throws `RangeError` when the sound is not within 30
 * cents of it, or where nothing periodic is found
 */
export function measuredMidi(
  pcm: Float32Array,
  sampleRate: number,
  attack: number,
  written: number | null,
): number {
  const longest = written === null || written < 60 ? WINDOW_SEC : WINDOW_SEC / 4;
  const fits = Math.min(longest * sampleRate, (pcm.length - attack) / 2);
  const size = 2 ** Math.floor(Math.log2(fits));
  const from = Math.min(Math.round(FROM_SEC * sampleRate), pcm.length - attack - Math.round(1.5 * size));
  const detector = PitchDetector.forFloat32Array(size);
  const found: number[] = [];
  const to = Math.min(pcm.length - size, attack + TO_SEC * sampleRate);
  for (let at = attack + from; at <= to; at += size / 4) {
    const [frequency, clarity] = detector.findPitch(pcm.subarray(at, at + size), sampleRate);
    if (clarity > 0.8) found.push(69 + 12 * Math.log2(frequency / 440));
  }
  const near = found.filter((m) => written === null || Math.abs(m - written) < 1).sort((a, b) => a - b);
  const median = near[near.length >> 1] ?? NaN;
  if (Number.isNaN(median) || (written !== null && Math.abs(median - written) >= FARTHEST_SEMITONES))
    throw new RangeError(`recording named MIDI ${written} sounds at ${median}`);
  return median;
}
