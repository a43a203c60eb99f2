import { whiteNoise } from '../effects/noise.ts';
import { hashText, makeRandom } from '../random.ts';
import type { Random } from '../random.ts';
import type { NoiseKind } from './sources.ts';

/**
 * Blows, taps and rubbing that were never recorded: bodies of every size and hardness, so that a fit does not take those of a
 * few drums for all. Modes of a struck body stand at no simple ratio (Fletcher & Rossing, The Physics of Musical Instruments,
 * chapters 3 and 18), and may slide while it gives; what strikes it, or rubs along it, is noise of some colour.
 */
export const MADE_RATE = 44_100;

const octaves = (random: Random, from: number, to: number): number => from * (to / from) ** random.next();

/** A mode that rises within `rise` and dies in `dies`, s, while its pitch slides by the share `slides`. */
function addMode(
  out: Float32Array,
  hz: number,
  level: number,
  rise: number,
  dies: number,
  slides: number,
): void {
  let phase = 0;
  for (let i = 0; i < out.length; i++) {
    const t = i / MADE_RATE;
    phase += (2 * Math.PI * hz * (1 + slides * Math.exp(-t / 0.04))) / MADE_RATE;
    out[i]! += level * Math.sin(phase) * (1 - Math.exp(-t / rise)) * Math.exp(-t / dies);
  }
}

/** Noise around `hz` (a resonator whose poles lie at the radius `r`), shaped by `shape` over time. */
function addBand(
  out: Float32Array,
  hz: number,
  r: number,
  level: number,
  random: Random,
  shape: (t: number) => number,
): void {
  const noise = whiteNoise(out.length, random);
  const turn = 2 * r * Math.cos((2 * Math.PI * hz) / MADE_RATE);
  let [a, b] = [0, 0];
  for (let i = 0; i < out.length; i++) {
    const now = (1 - r) * noise[i]! + turn * a - r * r * b;
    b = a;
    a = now;
    out[i]! += level * now * shape(i / MADE_RATE);
  }
}

function blow(random: Random, [low, high]: readonly [number, number], longest: number): Float32Array {
  const out = new Float32Array(Math.round(0.5 * MADE_RATE));
  const rise = octaves(random, 0.0002, 0.004);
  const slides = random.chance(0.4) ? random.between(-0.2, 0.3) : 0;
  const modes = random.pick([1, 2, 3, 5, 8]);
  let hz = octaves(random, low, high);
  for (let k = 0; k < modes; k++) {
    addMode(out, hz, random.between(0.2, 1) / (k + 1), rise, octaves(random, 0.008, longest), slides);
    hz *= random.between(1.2, 2.3);
  }
  const dies = octaves(random, 0.002, 0.03);
  addBand(out, octaves(random, 200, 8000), random.between(0.5, 0.97), octaves(random, 0.3, 6), random, (t) =>
    Math.exp(-t / dies),
  );
  return out;
}

/** Something that slips and sticks along a winding or a sleeve. */
function rubbed(random: Random): Float32Array {
  const out = new Float32Array(Math.round(0.6 * MADE_RATE));
  const [pulses, depth] = [octaves(random, 15, 150), random.next()];
  for (let k = random.pick([1, 2, 3]); k > 0; k--)
    addBand(
      out,
      octaves(random, 250, 6000),
      random.between(0.8, 0.995),
      random.between(0.3, 1),
      random,
      (t) => {
        const stroke = Math.sin(Math.PI * Math.min(1, t / 0.6));
        return stroke * (1 - depth * Math.abs(Math.sin(Math.PI * pulses * t)));
      },
    );
  return out;
}

/** Always the same under the same name. */
export function madeNoise(kind: NoiseKind, name: string): Float32Array {
  const random = makeRandom(hashText(`${kind}/${name}`));
  if (kind === 'rub') return rubbed(random);
  return kind === 'body' ? blow(random, [60, 500], 0.15) : blow(random, [400, 5000], 0.04);
}
