import { highPass, lowPass, lowPassOnce } from './filters.ts';
import { addTo, levelTo, whiteNoise } from './noise.ts';
import type { Random } from '../random.ts';

/** Sounds that are no notes. Each gives a mono buffer of RMS (or, for knocks, peak) near 1. */

/** A knock on the body or table: two damped modes between 80 and 400 Hz and a click, 60–150 ms. */
export function knock(sampleRate: number, random: Random): Float32Array {
  const out = new Float32Array(Math.round(random.between(0.06, 0.15) * sampleRate));
  const modes = [0, 1].map(() => ({
    w: (2 * Math.PI * random.between(80, 400)) / sampleRate,
    tau: random.between(0.008, 0.03) * sampleRate,
  }));
  for (let i = 0; i < out.length; i++) {
    for (const { w, tau } of modes) out[i]! += 0.5 * Math.sin(w * i) * Math.exp(-i / tau);
    out[i]! += 0.4 * (random.next() - 0.5) * Math.exp(-i / (0.002 * sampleRate));
  }
  return out;
}

/**
 * A thump on an acoustic body, by a hand that lands or lifts: the air in the box near 100 Hz, the top near
 * 200 Hz, and little above. Its air mode rings long enough to look like a G2.
 */
export function bodyThump(sampleRate: number, random: Random): Float32Array {
  const out = new Float32Array(Math.round(0.3 * sampleRate));
  const modes = [
    { hz: random.between(88, 118), tauSec: random.between(0.02, 0.07), level: 1 },
    { hz: random.between(170, 240), tauSec: random.between(0.01, 0.03), level: random.between(0.2, 0.8) },
    { hz: random.between(350, 500), tauSec: random.between(0.005, 0.015), level: random.between(0, 0.4) },
  ];
  for (const { hz, tauSec, level } of modes)
    for (let i = 0; i < out.length; i++) {
      const t = i / sampleRate;
      out[i]! += 0.6 * level * Math.sin(2 * Math.PI * hz * t) * Math.exp(-t / tauSec);
    }
  return out;
}

/** A finger sliding on wound strings: noise around a gliding 1–4 kHz, 60–250 ms. */
export function squeak(sampleRate: number, random: Random): Float32Array {
  const length = Math.round(random.between(0.06, 0.25) * sampleRate);
  const noise = whiteNoise(length, random);
  const out = new Float32Array(length);
  const from = random.between(1000, 2500);
  const to = from * random.between(1, 1.7);
  let low = 0;
  let band = 0;
  for (let i = 0; i < length; i++) {
    const f = 2 * Math.sin((Math.PI * (from + ((to - from) * i) / length)) / sampleRate);
    low += f * band;
    band += f * (noise[i]! - low - 0.15 * band);
    out[i] = band * Math.sin((Math.PI * i) / length);
  }
  return levelTo(out, 0);
}

/** A plectrum drawn over the string before it lets go: noise above 2 kHz, 15–45 ms, growing. */
export function scrape(seconds: number, sampleRate: number, random: Random): Float32Array {
  const out = whiteNoise(Math.round(seconds * sampleRate), random);
  highPass(out, 2000, sampleRate);
  for (let i = 0; i < out.length; i++) out[i]! *= 0.4 + (0.6 * i) / out.length;
  return levelTo(out, 0);
}

/** A finger leaving the string: 3–8 ms of dull noise. */
export function touch(sampleRate: number, random: Random): Float32Array {
  const length = Math.round(random.between(0.003, 0.008) * sampleRate);
  const out = whiteNoise(length, random);
  lowPassOnce(out, 3500, sampleRate);
  for (let i = 0; i < length; i++) out[i]! *= 1 - i / length;
  return levelTo(out, 0);
}

/** Mains hum and its harmonics, falling 6 dB each, RMS 1. */
export function hum(length: number, sampleRate: number, random: Random): Float32Array {
  const mains = random.pick([50, 60]);
  const out = new Float32Array(length);
  for (let h = 1; h <= 8; h++) {
    const w = (2 * Math.PI * mains * h) / sampleRate;
    const phase = 2 * Math.PI * random.next();
    const level = random.between(0.5, 1) * 2 ** -(h - 1);
    for (let i = 0; i < length; i++) out[i]! += level * Math.sin(w * i + phase);
  }
  return levelTo(out, 0);
}

/** A fan: rumble and blade tones, RMS 1. */
export function fan(length: number, sampleRate: number, random: Random): Float32Array {
  const out = whiteNoise(length, random);
  lowPassOnce(out, 500, sampleRate);
  levelTo(out, 0);
  const w = (2 * Math.PI * random.between(80, 180)) / sampleRate;
  for (let i = 0; i < length; i++) out[i]! += 0.4 * Math.sin(w * i) + 0.2 * Math.sin(2 * w * i);
  return levelTo(out, 0);
}

/** Turning a page: two or three rustles within 0.6 s. */
export function pageTurn(sampleRate: number, random: Random): Float32Array {
  const out = new Float32Array(Math.round(0.7 * sampleRate));
  for (let k = 0; k < random.whole(2, 3); k++) {
    const length = Math.round(random.between(0.08, 0.3) * sampleRate);
    const rustle = whiteNoise(length, random);
    highPass(rustle, 1200, sampleRate);
    lowPass(rustle, 9000, sampleRate);
    for (let i = 0; i < length; i++) {
      const crackle = random.chance(0.004) ? 3 : 1;
      rustle[i]! *= crackle * Math.sin((Math.PI * i) / length);
    }
    addTo(out, rustle, Math.round(random.between(0, 0.4) * sampleRate));
  }
  return levelTo(out, 0);
}

/** Noise that swells and ebbs over seconds, RMS 1. */
export function swellingNoise(length: number, sampleRate: number, random: Random): Float32Array {
  const out = whiteNoise(length, random);
  lowPassOnce(out, random.between(800, 4000), sampleRate);
  const w = (2 * Math.PI * random.between(0.15, 0.5)) / sampleRate;
  const phase = 2 * Math.PI * random.next();
  for (let i = 0; i < length; i++) out[i]! *= 0.55 + 0.45 * Math.sin(w * i + phase);
  return levelTo(out, 0);
}
