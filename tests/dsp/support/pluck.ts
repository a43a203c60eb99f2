/** Plucked strings made of numbers, with exact onsets: decaying partials, the higher the sooner, and a pick's click. */
export interface Pluck {
  readonly onsetSec: number;
  /** May be fractional. */
  readonly midi: number;
  /** Amplitude of the fundamental, default 0.2. */
  readonly gain?: number;
  /** The string is damped after this long, default until the next one. */
  readonly lengthSec?: number;
}

const PARTIALS = 14;

function noise(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 31 - 1;
  };
}

/** @returns mono samples; `hiss` is the amplitude of white noise under everything */
export function render(
  plucks: readonly Pluck[],
  sampleRate: number,
  durationSec: number,
  { hiss = 0.0003, seed = 1 } = {},
): Float32Array {
  const out = new Float32Array(Math.round(durationSec * sampleRate));
  plucks.forEach((pluck, n) => {
    const next = plucks[n + 1]?.onsetSec ?? durationSec;
    const end = Math.min(durationSec, pluck.onsetSec + (pluck.lengthSec ?? next - pluck.onsetSec));
    const f0 = 440 * 2 ** ((pluck.midi - 69) / 12);
    const click = noise(seed + n);
    const gain = pluck.gain ?? 0.2;
    let burst = 0;
    for (let i = Math.ceil(pluck.onsetSec * sampleRate); i < end * sampleRate && i < out.length; i++) {
      const t = i / sampleRate - pluck.onsetSec;
      let v = 0;
      for (let h = 1; h <= PARTIALS && h * f0 < 0.45 * sampleRate; h++)
        v +=
          (Math.sin(0.3 * h * Math.PI) / h ** 0.7) *
          Math.sin(2 * Math.PI * h * f0 * t) *
          Math.exp(-t * (1.5 + 1.1 * h));
      burst = 0.6 * burst + 0.4 * click();
      const fade = Math.min(1, t / 0.0008) * Math.min(1, (end - t - pluck.onsetSec) / 0.004);
      out[i]! += gain * fade * (v + burst * Math.exp(-t / 0.004));
    }
  });
  const air = noise(seed + 1000);
  for (let i = 0; i < out.length; i++) out[i]! += hiss * air();
  return out;
}

/** A minor pentatonic phrase of sixteen notes, E2 to E5, quavers at 100 bpm with one semiquaver pair. */
export const PHRASE: readonly Pluck[] = [40, 43, 45, 47, 50, 52, 55, 57, 59, 62, 64, 67, 69, 71, 74, 76].map(
  (midi, i) => ({ midi, onsetSec: 0.25 + 0.3 * i + (i === 9 ? -0.15 : 0), gain: 0.15 + 0.02 * (i % 4) }),
);
