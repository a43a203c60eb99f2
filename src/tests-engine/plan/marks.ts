import { logistic } from '../progress/gaussian.ts';

/**
 * How a mark of 0…100 comes about at a level, as far as an estimate needs it: of some number of steps each comes off or
 * not, as likely as a logistic of the level says, and a take has a luck of its own. How many steps tell apart the marks
 * of a station is not known beforehand (four chords are four; a melody's notes and their times count by degrees), so that
 * several are held at once and the player's own marks choose among them.
 */
export interface MarkShape {
  readonly steps: number;
  /** Marks fall on the steps alone; else anywhere about them. */
  readonly whole: boolean;
}
export const SHAPES: readonly MarkShape[] = [
  ...[4, 6, 9, 14, 22, 34].map((steps) => ({ steps, whole: false })),
  ...[3, 4, 5, 6, 7, 8, 10, 12].map((steps) => ({ steps, whole: true })),
];

/** Levels are logits of a step's chance: from 2 of 100 to 999 of 1,000, in quarters (a day's scatter is wider). */
const LOWEST = -4;
export const LEVEL_STEP = 0.25;
export const LEVELS: readonly number[] = Array.from({ length: 45 }, (_, i) => LOWEST + i * LEVEL_STEP);

/** What the takes of one day share, and what each has of its own (s.d., logits); ours: some four points at 85 each. */
const DAY_SD = 0.3;
const TAKE_SD = 0.4;
/** A share of marks that no shape explains, so that one odd mark rules nothing out. */
const ODD = 0.02;
const MARKS = 101;

/** Points and weights that stand for a normal scatter: nine, out to two and a half deviations. */
const SCATTER: readonly (readonly [at: number, weight: number])[] = (() => {
  const points = Array.from({ length: 9 }, (_, i) => (i - 4) * 0.625);
  const weights = points.map((x) => Math.exp((-x * x) / 2));
  const all = weights.reduce((a, b) => a + b, 0);
  return points.map((x, i) => [x, (weights[i] ?? 0) / all] as const);
})();

function binomial(n: number, p: number): number[] {
  let chance = (1 - p) ** n;
  return Array.from({ length: n + 1 }, (_, k) => {
    const own = chance;
    chance *= ((n - k) / (k + 1)) * (p / (1 - p));
    return own;
  });
}

/** Chances of the marks 0…100 at a level. */
function chancesOf({ steps, whole }: MarkShape, level: number): Float64Array {
  const chances = new Float64Array(MARKS);
  for (const [at, weight] of SCATTER) {
    for (const [k, chance] of binomial(steps, logistic(level + TAKE_SD * at)).entries()) {
      const own = weight * chance;
      if (whole) {
        chances[Math.round((100 * k) / steps)]! += own;
        continue;
      }
      const from = Math.max(0, (100 * (k - 0.5)) / steps);
      const to = Math.min(100, (100 * (k + 0.5)) / steps);
      for (let mark = Math.round(from); mark <= Math.round(to); mark++) {
        const share = Math.min(to, mark + 0.5) - Math.max(from, mark - 0.5);
        if (share > 0) chances[mark]! += (own * share) / (to - from);
      }
    }
  }
  return chances;
}

const known = new Map<string, unknown>();
function once<T>(key: string, make: () => T): T {
  if (!known.has(key)) known.set(key, make());
  return known.get(key) as T;
}

/** For a shape, by level: the chances of each mark. */
const chancesBy = (shape: number): readonly Float64Array[] =>
  once(`marks ${shape}`, () => LEVELS.map((level) => chancesOf(SHAPES[shape]!, level)));

/** Likelihood of a mark under a shape, by level. */
export const likelihood = (shape: number, mark: number): Float64Array =>
  once(`seen ${shape} ${Math.round(mark)}`, () =>
    Float64Array.from(
      chancesBy(shape),
      (chances) => ODD / MARKS + (1 - ODD) * chances[Math.min(100, Math.max(0, Math.round(mark)))]!,
    ),
  );

/** A day's scatter on the grid: shares of the levels from so many steps below to as many above. */
const DAY_REACH = Math.ceil((2.5 * DAY_SD) / LEVEL_STEP);
const DAY_TAPS: readonly number[] = (() => {
  const taps = Array<number>(2 * DAY_REACH + 1).fill(0);
  for (const [x, weight] of SCATTER) {
    const at = DAY_REACH + (DAY_SD * x) / LEVEL_STEP;
    const low = Math.min(2 * DAY_REACH - 1, Math.floor(at));
    taps[low]! += weight * (1 - (at - low));
    taps[low + 1]! += weight * (at - low);
  }
  return taps;
})();

/** Over levels, with the scatter of a day; the outermost stand for all beyond them. */
export function overDays(values: Float64Array): Float64Array {
  const last = values.length - 1;
  const spread = new Float64Array(values.length);
  for (let i = 0; i <= last; i++)
    for (let k = -DAY_REACH; k <= DAY_REACH; k++)
      spread[i]! += DAY_TAPS[k + DAY_REACH]! * values[Math.min(last, Math.max(0, i + k))]!;
  return spread;
}

/** Between two levels, by a straight line. */
export function valueAt(values: Float64Array, place: number): number {
  const at = Math.min(values.length - 1, Math.max(0, place));
  const low = Math.floor(at);
  const high = Math.min(values.length - 1, low + 1);
  return values[low]! + (at - low) * (values[high]! - values[low]!);
}

/** Chance that the mean of `count` marks of one day reaches `there`, by the level of the player. */
export const reaching = (shape: number, count: number, there: number): Float64Array =>
  once(`reach ${shape} ${count} ${there}`, () =>
    overDays(
      Float64Array.from(chancesBy(shape), (chances) => {
        let sums = chances;
        for (let k = 1; k < count; k++) {
          const next = new Float64Array(sums.length + MARKS - 1);
          for (let a = 0; a < sums.length; a++)
            for (let b = 0; b < MARKS; b++) next[a + b]! += sums[a]! * chances[b]!;
          sums = next;
        }
        return sums.reduce((all, chance, sum) => (sum >= count * there ? all + chance : all), 0);
      }),
    ),
  );
