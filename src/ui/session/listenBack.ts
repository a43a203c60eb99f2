import type { Rendered } from '../../audio/types.ts';

/** The sound of a take and where beat 1 stands in it: of the last one in memory, or of a kept copy. */
export interface Heard {
  readonly recording: { readonly samples: Float32Array<ArrayBuffer>; readonly sampleRate: number };
  readonly zeroSample: number;
}

/** Peak to which the take is brought for listening, so that a soft microphone can be compared with the phrase. */
const PEAK = 0.6;

/**
 * The take from `leadSec` before beat 1 for as long as the phrase's own sound lasts, at its rate (straight between
 * samples), brought to an even level.
 */
export function mineAlone(
  { recording, zeroSample }: Heard,
  phrase: Pick<Rendered, 'samples' | 'sampleRate'>,
  leadSec: number,
): Float32Array<ArrayBuffer> {
  const { samples, sampleRate } = recording;
  const step = sampleRate / phrase.sampleRate;
  const from = zeroSample - Math.round(leadSec * sampleRate);
  const out = new Float32Array(phrase.samples.length);
  let peak = 0;
  for (let i = 0; i < out.length; i += 1) {
    const at = from + i * step;
    const before = Math.floor(at);
    const a = samples[before] ?? 0;
    const sample = a + (at - before) * ((samples[before + 1] ?? 0) - a);
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
