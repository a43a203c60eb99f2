import { logistic, logit } from '../progress/gaussian.ts';
import { makeRandom } from '../material/random/random.ts';
import type { Evidence, Unit, UnitKind } from './types.ts';

/**
 * What comes out at a station as the player plays now: the marks of takes as in an exam, on a stretched scale, follow a
 * level that moves a little every day (local level model, Durbin & Koopman 2012, ch. 2), each take with a day of its own
 * and a scatter of its own. The scatter is learnt from the player's own takes, beside a usual one.
 */
const MODEL = {
  /** A mark of 0…100 as a logit; the ends are drawn in, so that 100 is not beyond everything. */
  ends: 2,
  /** Before anything is known: a mark in the seventies, anywhere from 20 to 98 (90 %). */
  priorMean: 1.1,
  priorSd: 1.4,
  /** One level harder takes away so much; ours: about from 85 to 78. */
  perLevel: 0.45,
  /** The level moves by so much a day (s.d.): half a point of the scale in a month. */
  dailySd: 0.09,
  /** What the takes of one day share (s.d.). */
  daySd: 0.35,
  /** Scatter of single takes (s.d.) where little is known, worth so many takes. */
  scatterSd: 0.9,
  scatterTakes: 6,
} as const;
/** Takes of levels further off say little of this one. */
const LEVELS_AWAY = 2;
const DAY_MS = 86_400_000;
const Z90 = 1.645;
/** Fewer takes, or none for so long, and nothing is foretold. */
export const LEAST_TAKES = 4;
const LEAST_WITHIN_DAYS = 90;
/** Draws for the mean of several items. */
const DRAWS = 400;

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

const stretched = (mark: number): number => logit((mark + MODEL.ends) / (100 + 2 * MODEL.ends));
const markOf = (x: number): number => (100 + 2 * MODEL.ends) * logistic(x) - MODEL.ends;

/** Takes that speak of a unit, oldest first, each on the unit's own level. */
function takesOf(unit: Unit, evidence: readonly Evidence[]): { readonly x: number; readonly atMs: number }[] {
  return evidence.flatMap(({ what, level, mark, atMs }) => {
    const away = level === null || unit.level === null ? 0 : unit.level - level;
    return what !== unit.what || mark === null || Math.abs(away) > LEVELS_AWAY
      ? []
      : [{ x: stretched(mark) - MODEL.perLevel * away, atMs }];
  });
}

/** Level now (mean and variance) and the scatter of takes about it. */
function follow(takes: readonly { readonly x: number; readonly atMs: number }[], nowMs: number) {
  let mean: number = MODEL.priorMean;
  let variance: number = MODEL.priorSd ** 2;
  let scatter: number = MODEL.scatterSd ** 2;
  let weight: number = MODEL.scatterTakes;
  let lastMs = takes[0]?.atMs ?? nowMs;
  let [day, ofDay] = [NaN, 0];
  for (const { x, atMs } of takes) {
    variance += MODEL.dailySd ** 2 * Math.max(0, (atMs - lastMs) / DAY_MS);
    lastMs = atMs;
    const here = Math.floor(atMs / DAY_MS);
    [day, ofDay] = [here, here === day ? ofDay + 1 : 1];
    // What the takes of a day share is no news a second time: it weighs the more, the more there are.
    const noise = scatter + MODEL.daySd ** 2 * ofDay;
    const surprise = x - mean;
    const gain = variance / (variance + noise);
    mean += gain * surprise;
    // The part of a surprise that the level's own doubt explains is none of the scatter.
    const left = Math.max(0, surprise ** 2 - variance - MODEL.daySd ** 2);
    scatter = (scatter * weight + Math.min(left, 9 * scatter)) / (weight + 1);
    weight = Math.min(40, weight + 1);
    variance *= 1 - gain;
  }
  variance += MODEL.dailySd ** 2 * Math.max(0, (nowMs - lastMs) / DAY_MS);
  return { mean, variance, scatter };
}

/** Standard normal numbers, the same every time: half of a pair each (Box & Muller 1958). */
function normals(count: number, seed: number): number[] {
  const random = makeRandom(seed, 31);
  const unit = (): number => (random.next() + 0.5) / 4294967296;
  return Array.from(
    { length: count },
    () => Math.sqrt(-2 * Math.log(unit())) * Math.cos(2 * Math.PI * unit()),
  );
}

/** Draws are shared by all units of so many items: estimates differ by what is known, not by chance. */
const DRAWN = new Map<number, { readonly day: number[]; readonly items: number[][] }>();
function drawn(count: number) {
  const known = DRAWN.get(count) ?? {
    day: normals(DRAWS, count),
    items: Array.from({ length: count }, (_, i) => normals(DRAWS, 1000 * (i + 1) + count)),
  };
  DRAWN.set(count, known);
  return known;
}

/** Chance that the mean of `count` marks about a level reaches `there`. */
function chanceAt(level: number, doubt: number, scatter: number, count: number, there: number): number {
  const { day, items } = drawn(count);
  const wide = Math.sqrt(MODEL.daySd ** 2 + doubt);
  const sd = Math.sqrt(scatter);
  let reached = 0;
  for (let k = 0; k < DRAWS; k++) {
    const base = level + wide * day[k]!;
    const sum = items.reduce((all, each) => all + Math.min(100, markOf(base + sd * each[k]!)), 0);
    // Marks are whole in the eyes of a reader: a mean within half a point counts by its share.
    reached += Math.min(1, Math.max(0, sum / count - there + 0.5));
  }
  return reached / DRAWS;
}

/** "As you play now": how often a unit would come out "there". @param there lowest mark for it, 0…100 */
export function estimateUnit(
  unit: Unit,
  evidence: readonly Evidence[],
  nowMs: number,
  there: number,
): UnitEstimate {
  if (UNMARKED.has(unit.what)) return { is: 'unmarked' };
  const takes = takesOf(unit, evidence);
  const lately = takes.filter(({ atMs }) => nowMs - atMs < LEAST_WITHIN_DAYS * DAY_MS).length;
  if (lately < LEAST_TAKES) return { is: 'unknown', more: LEAST_TAKES - lately };
  const { mean, variance, scatter } = follow(takes, nowMs);
  const sd = Math.sqrt(variance);
  const at = (level: number, doubt: number): number =>
    chanceAt(level, doubt, scatter, Math.max(1, unit.count), there);
  return {
    is: 'known',
    chance: at(mean, variance),
    low: at(mean - Z90 * sd, 0),
    high: at(mean + Z90 * sd, 0),
    takes: takes.length,
  };
}
