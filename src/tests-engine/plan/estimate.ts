import { LEVEL_STEP, LEVELS, likelihood, overDays, reaching, SHAPES, valueAt } from './marks.ts';
import type { Evidence, Unit, UnitKind } from './types.ts';

/**
 * What comes out at a station as the player plays now: the level behind the marks of takes as in an exam is followed from
 * take to take on a grid, and so is how finely its marks are stepped (a hidden Markov model; Durbin & Koopman 2012, ch. 14,
 * for the Gaussian one that it stands for). The takes of one day share that day's luck. What is told is the chance under all
 * that is still believed, not under the likeliest of it: a few good takes foretell no certainty.
 */
const MODEL = {
  /** Before anything is known, logits of a step's chance: about three of four come off, from 3 to 95 of 100 (90 % each way). */
  priorMean: 1,
  priorSd: 1.2,
  /** One level harder takes away so much; ours: about from 85 to 78. */
  perLevel: 0.5,
  /** The level moves by so much a day (s.d.): three quarters of the scale in two months. */
  dailySd: 0.1,
} as const;
/** Takes of levels further off say little of this one. */
const LEVELS_AWAY = 2;
const DAY_MS = 86_400_000;
/** Fewer takes, or none for so long, and nothing is foretold. */
export const LEAST_TAKES = 4;
const LEAST_WITHIN_DAYS = 90;
const EACH_SIDE = 0.05;

/** Told in words and never marked. */
const UNMARKED: ReadonlySet<UnitKind> = new Set(['improvising']);

export type UnitEstimate =
  | {
      readonly is: 'known';
      /** Chance, 0…1, that it comes out "there" on a usual day, and its 90 % limits. */
      readonly chance: number;
      readonly low: number;
      readonly high: number;
      /** Takes that it rests on. */
      readonly takes: number;
    }
  /** `more` takes are wanted. */
  | { readonly is: 'unknown'; readonly more: number }
  | { readonly is: 'unmarked' };

interface Take {
  readonly mark: number;
  /** How many levels the unit is harder than the take was. */
  readonly away: number;
  readonly atMs: number;
}

/** Takes that speak of a unit, oldest first. */
function takesOf(unit: Unit, evidence: readonly Evidence[]): Take[] {
  return evidence.flatMap(({ what, level, mark, atMs }) => {
    const away = level === null || unit.level === null ? 0 : unit.level - level;
    return what !== unit.what || mark === null || Math.abs(away) > LEVELS_AWAY ? [] : [{ mark, away, atMs }];
  });
}

/** Of a shape, by level: how much each is believed; all of all shapes is 1. */
interface Believed {
  readonly shape: number;
  readonly own: Float64Array;
}
/** A shape that is believed less than this is given up for good. */
const GIVEN_UP = 1e-5;

function prior(): Believed[] {
  const levels = LEVELS.map((x) => Math.exp(-(((x - MODEL.priorMean) / MODEL.priorSd) ** 2) / 2));
  const all = levels.reduce((a, b) => a + b, 0) * SHAPES.length;
  return SHAPES.map((_, shape) => ({ shape, own: Float64Array.from(levels, (one) => one / all) }));
}
const total = (values: Float64Array): number => values.reduce((a, b) => a + b, 0);

/** A random walk over the grid, with the variance of so many days. */
function drift(believed: Float64Array, days: number): Float64Array {
  let now = believed;
  const last = now.length - 1;
  for (let left = Math.min(days, LEAST_WITHIN_DAYS); left > 0; left--) {
    const share = (Math.min(1, left) * MODEL.dailySd ** 2) / LEVEL_STEP ** 2 / 2;
    const next = new Float64Array(now.length);
    for (let i = 0; i <= last; i++)
      next[i] = now[i]! + share * (now[Math.max(0, i - 1)]! + now[Math.min(last, i + 1)]! - 2 * now[i]!);
    now = next;
  }
  return now;
}

function follow(takes: readonly Take[], nowMs: number): readonly Believed[] {
  let believed = prior();
  let lastMs = takes[0]?.atMs ?? nowMs;
  for (let from = 0; from < takes.length;) {
    const { atMs } = takes[from]!;
    const day = Math.floor(atMs / DAY_MS);
    let to = from;
    while (to < takes.length && Math.floor(takes[to]!.atMs / DAY_MS) === day) to++;
    const today = takes.slice(from, to);
    const days = Math.max(0, (atMs - lastMs) / DAY_MS);
    const next = believed.map(({ shape, own }): Believed => {
      const together = new Float64Array(LEVELS.length).fill(1);
      for (const { mark, away } of today) {
        const seen = likelihood(shape, mark);
        const easier = (MODEL.perLevel * away) / LEVEL_STEP;
        for (let i = 0; i < together.length; i++) together[i]! *= valueAt(seen, i + easier);
      }
      const seen = overDays(together);
      return { shape, own: drift(own, days).map((one, i) => one * seen[i]!) };
    });
    const all = next.reduce((sum, { own }) => sum + total(own), 0);
    believed = next
      .map(({ shape, own }) => ({ shape, own: own.map((one) => one / all) }))
      .filter(({ own }) => total(own) > GIVEN_UP);
    lastMs = atMs;
    from = to;
  }
  return believed.map(({ shape, own }) => ({
    shape,
    own: drift(own, Math.max(0, (nowMs - lastMs) / DAY_MS)),
  }));
}

/** What is believed of a unit on a day. */
export interface UnitBelief {
  /** Takes that it rests on, and those of the last months. */
  readonly takes: number;
  readonly lately: number;
  /** Chance that it comes out "there" were the level so many logits higher: now by 0, whatever is known. */
  chance(higher?: number): number;
  /** The chance's own 90 % limits. */
  limits(): readonly [low: number, high: number];
}

export function beliefOf(
  unit: Unit,
  evidence: readonly Evidence[],
  nowMs: number,
  there: number,
): UnitBelief {
  const takes = takesOf(unit, evidence);
  const shapes = follow(takes, nowMs).map(({ shape, own }) => ({
    own,
    reach: reaching(shape, Math.max(1, unit.count), there),
  }));
  const chance = (higher = 0): number => {
    let [sum, all] = [0, 0];
    for (const { own, reach } of shapes)
      for (const [i, weight] of own.entries()) {
        sum += weight * valueAt(reach, i + higher / LEVEL_STEP);
        all += weight;
      }
    return sum / all;
  };
  return {
    takes: takes.length,
    lately: takes.filter(({ atMs }) => nowMs - atMs < LEAST_WITHIN_DAYS * DAY_MS).length,
    chance,
    limits: () => {
      const states = shapes
        .flatMap(({ own, reach }) => Array.from(own, (weight, i) => ({ weight, chance: reach[i]! })))
        .filter(({ weight }) => weight > 0)
        .sort((a, b) => a.chance - b.chance);
      const all = states.reduce((sum, { weight }) => sum + weight, 0);
      // Between two states of the grid by a straight line.
      const at = (share: number): number => {
        let [sum, before] = [0, states[0]?.chance ?? 0];
        for (const { weight, chance: here } of states) {
          const within = (share * all - sum) / weight;
          if (within <= 1) return before + Math.max(0, within) * (here - before);
          [sum, before] = [sum + weight, here];
        }
        return before;
      };
      // Of a chance that is next to nothing or next to all the mean may lie beyond nine tenths of what is believed.
      return [Math.min(chance(), at(EACH_SIDE)), Math.max(chance(), at(1 - EACH_SIDE))];
    },
  };
}

/** Whether a unit is only ever told in words. */
export const isUnmarked = ({ what }: Unit): boolean => UNMARKED.has(what);

/** "As you play now": how often a unit would come out "there". @param there lowest mark for it, 0…100 */
export function estimateUnit(
  unit: Unit,
  evidence: readonly Evidence[],
  nowMs: number,
  there: number,
): UnitEstimate {
  if (isUnmarked(unit)) return { is: 'unmarked' };
  const belief = beliefOf(unit, evidence, nowMs, there);
  if (belief.lately < LEAST_TAKES) return { is: 'unknown', more: LEAST_TAKES - belief.lately };
  const [low, high] = belief.limits();
  return { is: 'known', chance: belief.chance(), low, high, takes: belief.takes };
}
