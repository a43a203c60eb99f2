import type { Rendered } from '../../audio/types.ts';
import type { TakeSound } from './types.ts';

/** Peak to which the take is brought for listening, so that a soft microphone can be compared with the phrase. */
const PEAK = 0.6;

/** The take from `leadSec` before beat 1 for as long as the phrase's own sound lasts, brought to an even level. */
export function mineAlone(take: TakeSound, phrase: Rendered, leadSec: number): Float32Array<ArrayBuffer> {
  const from = take.zeroSample - Math.round(leadSec * take.recording.sampleRate);
  const out = new Float32Array(phrase.samples.length);
  let peak = 0;
  for (let i = 0; i < out.length; i += 1) {
    const sample = take.recording.samples[from + i] ?? 0;
    out[i] = sample;
    peak = Math.max(peak, Math.abs(sample));
  }
  if (peak > 0) for (let i = 0; i < out.length; i += 1) out[i] = ((out[i] ?? 0) / peak) * PEAK;
  return out;
}

/** Phrase and take together, beat on beat, each at half. */
export function mixed(a: Float32Array<ArrayBuffer>, b: Float32Array<ArrayBuffer>): Float32Array<ArrayBuffer> {
  return a.map((sample, i) => 0.5 * (sample + (b[i] ?? 0)));
}
