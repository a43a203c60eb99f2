import { levelBetween, ms } from '../signal/prepared.ts';
import type { Prepared } from '../signal/prepared.ts';

/**
 * How the level goes around an attack, decibels over ten. `e…` and `bright…` look at the differentiated signal, in
 * which a plectrum's noise and a string's fresh treble weigh most.
 */
export const LEVELS = [
  'gain50',
  'gain10',
  'gain20',
  'level',
  'quiet',
  'nextdom',
  'sustain',
  'slope',
  'least',
  'past',
  'later',
  'latest',
  'start',
  'egain8',
  'egain30',
  'elevel',
  'efall',
  'erise',
  'brightAfter',
  'brightBefore',
  'brightAttack',
] as const;

/** What is loud in the take: 98th percentile of its sounding part, dB. */
export interface Loud {
  /** Of 50 ms levels. */
  readonly levelDb: number;
  /** Of 10 ms levels of the differentiated signal. */
  readonly edgesDb: number;
}

/** A string does not fall faster than 15 dB in 50 ms by itself, nor rise by more than 3. */
const FASTEST_DECAY = -15;
const FASTEST_SWELL = 3;

/** @param t attack, samples at the working rate. @returns as {@link LEVELS} names them */
export function levels(take: Prepared, t: number, loud: Loud): number[] {
  const level = (a: number, b: number): number => levelBetween(take.energy, t + ms(a), t + ms(b));
  const edges = (a: number, b: number): number => levelBetween(take.edges, t + ms(a), t + ms(b));
  const now = level(4, 50);
  const start = Math.max(level(1, 12), level(12, 25));
  const before = level(-50, -10);
  const earlier = level(-100, -60);
  const decay = Math.max(FASTEST_DECAY, Math.min(FASTEST_SWELL, before - earlier));
  const relative = now - loud.levelDb;
  return [
    now - level(-50, -6),
    now - level(-12, -2),
    level(2, 20) - level(-20, -2),
    relative,
    Math.max(0, -25 - relative),
    Math.max(level(30, 60), level(60, 90), level(90, 130)) - start,
    level(25, 60) - start,
    level(10, 60) - before - 1.5 * decay,
    Math.min(now, level(30, 80)) - Math.max(earlier, before),
    level(-200, -100) - level(-50, -6),
    level(60, 110) - level(10, 60),
    level(110, 200) - level(10, 60),
    level(0, 8) - now,
    edges(1, 8) - edges(-8, -1),
    edges(2, 30) - edges(-30, -4),
    edges(0, 12) - loud.edgesDb,
    edges(-16, 0) - edges(1, 9),
    edges(0, 8) - edges(-9, -1),
    edges(4, 50) - now,
    edges(-50, -6) - level(-50, -6),
    edges(0, 10) - level(0, 10),
  ].map((db) => db / 10);
}
