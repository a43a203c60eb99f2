import type { LevelMetre, LevelParameters } from '../levels/types.ts';
import { METRES, barTicks } from '../metre/metres.ts';
import { permuted } from '../random/permutation.ts';
import { type Random, makeRandom, mix } from '../random/random.ts';
import { ladder, spelledScale } from '../theory/scale.ts';
import { type RhythmPlan, type RhythmPlans, rhythmPlans } from './plan.ts';
import { shapeLine } from './shape.ts';

/** A melody before it is put into a key: its rhythm, its scale, and its notes in semitones from the tonic. */
export interface Line {
  readonly plan: RhythmPlan;
  readonly scale: string;
  readonly offsets: readonly number[];
  readonly range: readonly [number, number];
}

/**
 * Twice the thousand consecutive tests that may not share a melody. A metre with fewer rhythms than this
 * gives each rhythm as many different lines as it takes.
 */
export const LEAST_STOCK = 2000;
/** Draws for one more different line before a rhythm is taken to have no more. */
const DRAWS = 60;
const LINES = 0x11e5;

const plansCache = new WeakMap<LevelMetre, RhythmPlans>();
function plansOf(level: LevelParameters, at: LevelMetre): RhythmPlans {
  let plans = plansCache.get(at);
  if (!plans) plansCache.set(at, (plans = rhythmPlans(level, at)));
  return plans;
}

/** How many melodies (rhythms where they are many, else rhythms × lines) pass before one can return. */
export function melodyStock(level: LevelParameters, at: LevelMetre): { rhythms: number; lines: number } {
  const { size } = plansOf(level, at);
  return { rhythms: size, lines: Math.ceil(LEAST_STOCK / size) };
}

/** One drawn line, on a scale and range of the level. */
export type Drawing = (plan: RhythmPlan, random: Random) => Line;

/** Scale, range and pitches for a plan; `stringsOf` places the hand when it is known which hand it will be. */
export function drawLine(
  level: LevelParameters,
  bars: number,
  plan: RhythmPlan,
  scale: string,
  random: Random,
): Line {
  const range = random.pick(level.ranges);
  const spelled = spelledScale({ tonic: 'C', scale });
  const rungs = ladder(spelled, range[0], range[1]);
  return { plan, scale, range, offsets: shapeLine(level, spelled, rungs, plan, bars, null, random) };
}

const listCache = new WeakMap<LevelMetre, Map<string, readonly Line[]>>();

/** `wanted` different lines for one rhythm; fewer where there are no more. */
function listOf(
  level: LevelParameters,
  at: LevelMetre,
  number: number,
  scales: readonly string[],
  wanted: number,
): readonly Line[] {
  const lists = listCache.get(at) ?? new Map<string, readonly Line[]>();
  listCache.set(at, lists);
  const name = `${number} ${scales.join()}`;
  const known = lists.get(name);
  if (known) return known;
  const random = makeRandom(number, LINES);
  const plan = plansOf(level, at).plan(number, random);
  const lines = new Map<string, Line>();
  for (let draw = 0; lines.size < wanted && draw < DRAWS * wanted; draw++) {
    const line = drawLine(level, at.melodyBars, plan, random.pick(scales), random);
    const name = line.offsets.join();
    if (!lines.has(name)) lines.set(name, line);
  }
  const list = [...lines.values()];
  lists.set(name, list);
  return list;
}

/**
 * The line of a seed. Consecutive seeds walk a permutation of the stock, so that no melody returns before
 * the stock is used up; the metre is the seed's remainder.
 */
export function lineOf(
  level: LevelParameters,
  at: LevelMetre,
  walk: number,
  scales: readonly string[],
  random: Random,
): Line {
  const plans = plansOf(level, at);
  const { rhythms, lines } = melodyStock(level, at);
  const index = permuted(walk % (rhythms * lines), rhythms * lines, mix(rhythms, lines));
  const number = index % rhythms;
  if (lines === 1)
    return drawLine(level, at.melodyBars, plans.plan(number, random), random.pick(scales), random);
  const list = listOf(level, at, number, scales, lines);
  return list[Math.floor(index / rhythms) % list.length]!;
}

/** Length of a melody in ticks. */
export const melodyTicks = (at: LevelMetre): number => barTicks(METRES[at.metre]) * at.melodyBars;
