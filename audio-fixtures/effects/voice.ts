import { addTo, levelTo, whiteNoise } from './noise.ts';
import { highPass } from './filters.ts';
import type { Random } from '../random.ts';

/** First three formants (Hz) of five vowels of a male voice (Peterson & Barney, JASA 24, 1952, table II). */
const VOWELS = [
  [270, 2290, 3010],
  [530, 1840, 2480],
  [730, 1090, 2440],
  [570, 840, 2410],
  [300, 870, 2240],
] as const;
const BANDWIDTHS = [80, 110, 160] as const;

/** Glottal pulses at `pitchHz(t)` through three resonators; amplitude `loudness(t)` of about 0…1. */
export function vowel(
  length: number,
  sampleRate: number,
  formants: readonly number[],
  pitchHz: (sec: number) => number,
  loudness: (sec: number) => number,
): Float32Array {
  const out = new Float32Array(length);
  let phase = 0;
  let tilt = 0;
  for (let i = 0; i < length; i++) {
    const t = i / sampleRate;
    const step = pitchHz(t) / sampleRate;
    phase += step;
    let pulse = -step;
    if (phase >= 1) {
      phase -= 1;
      pulse += 1;
    }
    tilt += 0.2 * (pulse - tilt); // −6 dB an octave above about 1.5 kHz: a breathy source
    out[i] = tilt * loudness(t);
  }
  formants.forEach((f, k) => {
    const r = Math.exp((-Math.PI * BANDWIDTHS[k % 3]!) / sampleRate);
    const c = 2 * r * Math.cos((2 * Math.PI * f) / sampleRate);
    const gain = 1 - c + r * r;
    let y1 = 0;
    let y2 = 0;
    for (let i = 0; i < length; i++) {
      const y = gain * out[i]! + c * y1 - r * r * y2;
      y2 = y1;
      out[i] = y1 = y;
    }
  });
  return out;
}

/** Speech-like babble: syllables of 120–300 ms with gliding pitch, hisses between, pauses. RMS 1 where it speaks. */
export function babble(length: number, sampleRate: number, random: Random): Float32Array {
  const out = new Float32Array(length);
  const voiceHz = random.between(90, 220);
  let at = random.between(0.1, 0.5);
  while (at * sampleRate < length) {
    const seconds = random.between(0.12, 0.3);
    const from = voiceHz * random.between(0.85, 1.25);
    const to = from * random.between(0.8, 1.1);
    const syllable = vowel(
      Math.round(seconds * sampleRate),
      sampleRate,
      random.pick(VOWELS),
      (t) => from + ((to - from) * t) / seconds,
      (t) => Math.sin((Math.PI * t) / seconds),
    );
    addTo(out, levelTo(syllable, random.between(-5, 0)), Math.round(at * sampleRate));
    at += seconds;
    if (random.chance(0.6)) {
      const hiss = whiteNoise(Math.round(random.between(0.03, 0.1) * sampleRate), random);
      highPass(hiss, 2500, sampleRate);
      addTo(out, levelTo(hiss, random.between(-20, -10)), Math.round(at * sampleRate));
      at += hiss.length / sampleRate;
    }
    if (random.chance(0.15)) at += random.between(0.2, 0.6);
  }
  return out;
}

/** A sung or hummed line: notes of 0.3–0.9 s, scooped into and with vibrato, no plucks. */
export function sung(length: number, sampleRate: number, random: Random, hummed: boolean): Float32Array {
  const out = new Float32Array(length);
  const home = random.whole(43, 60);
  let at = random.between(0.2, 0.6);
  let before = home;
  while (at * sampleRate < length) {
    const seconds = random.between(0.3, 0.9);
    const midi = Math.max(home - 5, Math.min(home + 9, before + random.pick([-4, -2, -1, 0, 1, 2, 3, 5])));
    const scoopFrom = before + random.between(-0.5, 0.5);
    const rate = 2 * Math.PI * random.between(4.5, 6.5);
    const depth = random.between(0.05, 0.35);
    const pitch = (t: number): number => {
      const arrived = 1 - Math.exp(-t / 0.045);
      const m = scoopFrom + (midi - scoopFrom) * arrived + depth * Math.sin(rate * t) * Math.min(1, t / 0.3);
      return 440 * 2 ** ((m - 69) / 12);
    };
    const loud = (t: number): number => Math.min(1, t / 0.06, Math.max(0, (seconds - t) / 0.08));
    const tone = vowel(
      Math.round(seconds * sampleRate),
      sampleRate,
      hummed ? [250, 1100, 2200] : random.pick(VOWELS),
      pitch,
      loud,
    );
    addTo(out, levelTo(tone, random.between(-4, 0)), Math.round(at * sampleRate));
    before = midi;
    at += seconds * (random.chance(0.7) ? 0.97 : 1.2);
  }
  return out;
}
