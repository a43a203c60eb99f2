import type { Key } from '../../../music/score.ts';
import { type Placed, REACHES, type Reach, place, placeAtHome, stringOf } from '../hand/placing.ts';
import { totalDifficulty } from '../difficulty/difficulty.ts';
import { Building } from '../building.ts';
import { PerMetre } from '../levels/perMetre.ts';
import type { LevelMetre, LevelParameters } from '../levels/types.ts';
import { METRES } from '../../../music/metre.ts';
import type { GeneratorVersion } from '../generators.ts';
import { permuted } from '../random/permutation.ts';
import { type Random, makeRandom, mix } from '../random/random.ts';
import { spelledScale } from '../theory/scale.ts';
import { type RhythmPlan, type RhythmPlans, rhythmPlans } from './plan.ts';
import { rungsOf, shapeLine } from './shape.ts';

/** A melody before it sounds: its rhythm, its scale, and its notes in semitones from the tonic. */
export interface Line {
  readonly plan: RhythmPlan;
  readonly scale: string;
  readonly range: readonly [number, number];
  readonly offsets: readonly number[];
}

/** What a line is drawn for. */
export interface LineRequest {
  readonly level: LevelParameters;
  readonly at: LevelMetre;
  readonly strings: readonly number[];
  /** Which step of the level's walk through its stock. */
  readonly walk: number;
  readonly tempoBpm: number;
  /** A key to keep to, or null. */
  readonly asked: Key | null;
  /** Lowest and highest fret of the index finger that the player asked for, or null. */
  readonly position?: readonly [number, number] | null;
  /** 1: as the first generator did, for its codes. */
  readonly generator: GeneratorVersion;
}

/**
 * A metre with at least so many rhythms walks through its rhythms, eight to a step (below); one with fewer
 * walks through a list of whole lines. So either way far more than a thousand pass before one returns.
 */
export const LEAST_RHYTHMS = 16000;
/** Different lines that a level's lists hold together: a fifth more than the thousand that may not repeat. */
const ENOUGH_LINES = 1200;
/** Draws after which a list is as long as it gets; level 1, with the least material, needs about 5,000. */
const LIST_DRAWS = 8000;
/**
 * Rhythms that belong to one step of the walk: the first whose line lies in the level's band of difficulty is
 * taken, else the nearest. Steps share none, so nothing returns early.
 */
const RHYTHMS_A_STEP = 8;
/** Lines drawn to one rhythm before the next is tried. */
const LINES_A_RHYTHM = 3;
/** Keeps the draws of the list apart from those of single tests. */
const LIST = 0x11e5;

const newRules = ({ generator }: LineRequest): boolean => generator > 1;

const rulesName = (request: LineRequest): string => (newRules(request) ? 'new' : 'first');

const plansKept = new PerMetre<RhythmPlans>();
const plansOf = (request: LineRequest): RhythmPlans => {
  const { level, at } = request;
  return plansKept.of(level, at, rulesName(request), () => rhythmPlans(level, at, newRules(request)));
};

const scalesOf = ({ level, asked }: LineRequest): readonly string[] =>
  asked ? [asked.scale] : level.scales.map(({ scale }) => scale);

/** Semitones by which a range may be cut from above on a tuning that cannot hold it, tried in this order. */
const CUTS = [0, 2, 4, 6, 8, 10];
/** A fifth: less room makes no melody. */
const LEAST_RANGE = 7;

const placeFor = (
  request: LineRequest,
  scale: string,
  range: readonly [number, number],
  random: Random,
  reach: Reach = 'nearest',
): Placed | null => {
  const { level, strings, asked, position } = request;
  if (!newRules(request)) return place(level, strings, scale, range, asked, random);
  return placeAtHome(level, strings, scale, range, asked, position ?? null, random, reach);
};

interface Somewhere {
  readonly scale: string;
  readonly range: readonly [number, number];
  readonly placed: Placed;
}

/**
 * A range under a hand, for the asked or drawn scale; narrower where the tuning holds nothing wider. A position that was
 * asked for is kept: another scale of the level, another range, a narrower one, and then a stretched little finger are
 * taken before another position.
 */
function placeSomewhere(request: LineRequest, random: Random): Somewhere {
  const { level, strings } = request;
  for (const reach of request.position ? REACHES : (['nearest'] as const)) {
    const found = placeWithin(request, random, reach);
    if (found) return found;
  }
  throw new RangeError(
    `no hand position between frets ${level.positions.join(' and ')} of the tuning [${strings.join(', ')}] holds a melody of level "${level.name}" in this key; choose another key or tuning`,
  );
}

function placeWithin(request: LineRequest, random: Random, reach: Reach): Somewhere | null {
  const { level } = request;
  const scales = scalesOf(request);
  const fromScale = random.below(scales.length);
  const fromRange = random.below(level.ranges.length);
  for (const cut of CUTS)
    for (let s = 0; s < scales.length; s++)
      for (let r = 0; r < level.ranges.length; r++) {
        const scale = scales[(fromScale + s) % scales.length]!;
        const [low, high] = level.ranges[(fromRange + r) % level.ranges.length]!;
        if (high - cut < LEAST_RANGE) continue;
        const range = [low, high - cut] as const;
        const placed = placeFor(request, scale, range, random, reach);
        if (placed) return { scale, range, placed };
      }
  return null;
}

/** More than any band is from another: a line of another length is taken only where there is none of the right one. */
const WRONG_LENGTH = 100;

/** How far a line lies from the level's band of difficulty, 0 inside it. */
function outOfBand({ level, at }: LineRequest, tempo: number, line: Line): number {
  const { onsets, durations } = line.plan;
  const phrase = { metre: METRES[at.metre], bars: at.melodyBars };
  const [fewest, most] = at.melodyLength ?? [0, Infinity];
  const unfit = onsets.length < fewest || onsets.length > most ? WRONG_LENGTH : 0;
  if (!level.melodyBand) return unfit;
  const { steps } = spelledScale({ tonic: 'C', scale: line.scale });
  const minorThird = steps.includes(3) && !steps.includes(4);
  const total = totalDifficulty({ onsets, durations, offsets: line.offsets, minorThird }, phrase, tempo);
  return unfit + Math.max(0, level.melodyBand[0] - total, total - level.melodyBand[1]);
}

function draw(
  request: LineRequest,
  plan: RhythmPlan,
  scale: string,
  range: readonly [number, number],
  hand: Placed | null,
  random: Random,
): Line {
  const { level, at } = request;
  const rungs = rungsOf(level, scale, range);
  const under = hand ? hand.hand : null;
  const offsets = shapeLine(level, rungs, under, plan, at.melodyBars, random, newRules(request));
  return { plan, scale, range, offsets };
}

/** A fresh line for one test: the hand is placed first, so that the strings it crosses are known. */
function freshLine(request: LineRequest, step: number, random: Random): { line: Line; placed: Placed } {
  const { scale, range, placed } = placeSomewhere(request, random);
  const plans = plansOf(request);
  let best: Line | null = null;
  let least = Infinity;
  const draws = newRules(request) ? LINES_A_RHYTHM : 1;
  for (let i = 0; i < RHYTHMS_A_STEP * draws && least > 0; i++) {
    const turn = step * RHYTHMS_A_STEP + Math.floor(i / draws);
    const number = permuted(turn % plans.size, plans.size, plans.size);
    const line = draw(request, plans.plan(number, random), scale, range, placed, random);
    const off = outOfBand(request, request.tempoBpm, line);
    if (off < least) [best, least] = [line, off];
  }
  return { line: best!, placed };
}

const listsKept = new PerMetre<Building<readonly Line[]>>();

/** Draws between two pauses: some 5 ms. */
const DRAWS_A_SLICE = 50;

/** The different lines of a metre with few rhythms, the same for every instrument, all inside the band. */
function lineList(request: LineRequest): Building<readonly Line[]> {
  const name = `${rulesName(request)} ${scalesOf(request).join()}`;
  return listsKept.of(request.level, request.at, name, () => new Building(drawLines(request)));
}

function* drawLines(request: LineRequest): Generator<void, readonly Line[]> {
  const { level } = request;
  const scales = scalesOf(request);
  const plans = plansOf(request);
  const lines = new Map<string, Line>();
  const random = makeRandom(plans.size, LIST);
  const middle = (level.tempo[0] + level.tempo[1]) / 2;
  const enough = Math.ceil(ENOUGH_LINES / level.metres.length);
  for (let i = 0; i < LIST_DRAWS && lines.size < enough; i++) {
    if (i % DRAWS_A_SLICE === 0) yield;
    const number = permuted(i % plans.size, plans.size, plans.size);
    const plan = plans.plan(number, random);
    const line = draw(request, plan, random.pick(scales), random.pick(level.ranges), null, random);
    const name = `${number} ${line.offsets.join()}`;
    if (!lines.has(name) && outOfBand(request, middle, line) === 0) lines.set(name, line);
  }
  return [...lines.values()];
}

/** Builds what the melodies of a request are drawn from, a slice at a time. */
export function* prepareLines(request: LineRequest): Generator<void, void> {
  yield;
  if (plansOf(request).size < LEAST_RHYTHMS) yield* lineList(request).slices();
}

/** How many melodies of a metre pass before one can return. */
export function melodyStock(request: LineRequest): number {
  const { size } = plansOf(request);
  return size >= LEAST_RHYTHMS ? Math.floor(size / RHYTHMS_A_STEP) : lineList(request).whole().length;
}

/** Most strings between two neighbours of a line under a hand. */
function widestCross(line: Line, { hand }: Placed): number {
  let most = 0;
  for (let i = 1; i < line.offsets.length; i++) {
    const apart = stringOf(hand, line.offsets[i]!) - stringOf(hand, line.offsets[i - 1]!);
    most = Math.max(most, Math.abs(apart));
  }
  return most;
}

/** Hands tried for a line before one that crosses more strings than the level likes is taken. */
const HANDS = 8;

/**
 * The line of a request, placed under a hand. Consecutive walks take a permutation of the stock, so that no
 * melody returns before the stock is used up.
 * @throws RangeError when the tuning holds it in none of the keys, or the level's limits contradict each other.
 */
export function lineFor(request: LineRequest, random: Random): { line: Line; placed: Placed } {
  const { level, walk } = request;
  const { size } = plansOf(request);
  const stock = melodyStock(request);
  const index = stock > 0 ? permuted(walk % stock, stock, mix(stock, size)) : walk % size;
  if (size >= LEAST_RHYTHMS || stock === 0) return freshLine(request, index, random);
  const line = lineList(request).whole()[index]!;
  let best: Placed | null = null;
  for (let hand = 0; hand < HANDS; hand++) {
    const placed = placeFor(request, line.scale, line.range, random, request.position ? 'hand' : 'nearest');
    if (!placed) break;
    if (!best || widestCross(line, placed) < widestCross(line, best)) best = placed;
    if (widestCross(line, best) <= level.maxStringCross) break;
  }
  return best ? { line, placed: best } : freshLine(request, index % size, random);
}
