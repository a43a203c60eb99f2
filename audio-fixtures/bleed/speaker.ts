import { highPass, lowPass } from '../effects/filters.ts';
import type { Random } from '../random.ts';

/** A small loudspeaker: where it starts and stops, three resonances, and how hard it is driven. */
export interface Speaker {
  readonly lowHz: number;
  readonly highHz: number;
  readonly resonances: readonly { readonly hz: number; readonly q: number; readonly db: number }[];
  /** Gain into a tanh after peak normalisation: 0.5 gives about 1 %, 0.9 about 3 % distortion. */
  readonly drive: number;
}

/** A laptop's (from 180–280 Hz) or a bookshelf loudspeaker (from 70–130 Hz), up to about 10 kHz. */
export function makeSpeaker(random: Random): Speaker {
  const laptop = random.chance(0.5);
  return {
    lowHz: laptop ? random.between(180, 280) : random.between(70, 130),
    highHz: random.between(9000, 11_000),
    resonances: [0, 1, 2].map(() => ({
      hz: 200 * 2 ** random.between(0, 5),
      q: random.between(1, 5),
      db: random.between(-5, 5),
    })),
    drive: random.between(0.5, 0.9),
  };
}

/** Peaking filter of the Audio EQ Cookbook (R. Bristow-Johnson), in place. */
function peak(pcm: Float32Array, hz: number, q: number, gainDb: number, rate: number): void {
  const amp = 10 ** (gainDb / 40);
  const w = (2 * Math.PI * hz) / rate;
  const alpha = Math.sin(w) / (2 * q);
  const a0 = 1 + alpha / amp;
  const [b0, b1, b2] = [(1 + alpha * amp) / a0, (-2 * Math.cos(w)) / a0, (1 - alpha * amp) / a0];
  const a2 = (1 - alpha / amp) / a0;
  let [x1, x2, y1, y2] = [0, 0, 0, 0];
  for (let i = 0; i < pcm.length; i++) {
    const x = pcm[i]!;
    const y = b0 * x + b1 * (x1 - y1) + b2 * x2 - a2 * y2;
    [x2, x1, y2, y1] = [x1, x, y1, y];
    pcm[i] = y;
  }
}

/** What the loudspeaker makes of a signal. */
export function throughSpeaker(signal: Float32Array, speaker: Speaker, rate: number): Float32Array {
  const out = signal.slice();
  highPass(out, speaker.lowHz, rate);
  for (const { hz, q, db } of speaker.resonances) peak(out, hz, q, db, rate);
  let top = 0;
  for (const v of out) top = Math.max(top, Math.abs(v));
  const gain = speaker.drive / Math.max(top, 1e-9);
  for (let i = 0; i < out.length; i++) out[i] = Math.tanh(out[i]! * gain) / gain;
  lowPass(out, speaker.highHz, rate);
  return out;
}
