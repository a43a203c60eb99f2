import type { Random } from '../random/random.ts';

/** What a melodic line has to satisfy. Rungs index the ladder of scale notes under the hand. */
export interface LineTask {
  /** Semitones from the tonic, rising. */
  readonly rungs: readonly number[];
  /** String of each rung (1 = highest). */
  readonly strings: readonly number[];
  /** Rungs that belong to the tonic chord. */
  readonly chord: readonly boolean[];
  readonly count: number;
  readonly first: number;
  readonly last: number;
  /** The one highest note: which note of the line, which rung. */
  readonly climaxAt: number;
  readonly climax: number;
  /** Notes on a stress of the bar. */
  readonly strong: readonly boolean[];
  /** Notes that follow the one before within a quaver. */
  readonly quick: readonly boolean[];
  /** mirror[i] = j: the move into note i goes the way of the move into note j, times `mirrorSign[i]`; 0 = free. */
  readonly mirror: readonly number[];
  readonly mirrorSign: readonly number[];
  readonly maxLeap: number;
  readonly maxLeaps: number;
  readonly maxStringCross: number;
}

/** A fourth or more counts as a leap; anything up to a major third does not. */
export const LEAP = 5;
/** Four notes in one direction are a figure, five by step begin to be a scale exercise. */
export const LONGEST_RUN = 4;
/** Within a quaver no more than a fifth: further apart two strings would have to be crossed in a hurry. */
const QUICK_LEAP = 7;
/** Nodes of the search before the task is given up and another one drawn: 12 notes × 8 rungs, twice over. */
const BUDGET = 200;

/**
 * A line of `count` rungs, found by a randomised depth-first search, or null when the budget runs out.
 * The rules: one climax; no interval over `maxLeap`; a leap is left by a step or third the other way; the
 * last note is reached without a leap and not by repetition; at most {@link LONGEST_RUN} notes in one
 * direction; no note three times in a row; no to-and-fro over four notes; no more strings crossed than stated,
 * and no more than a fifth within a quaver; the answer's
 * moves go the way of the opening's.
 */
export function findLine(task: LineTask, random: Random): number[] | null {
  const { rungs, strings, count } = task;
  const line: number[] = [task.first];
  let nodes = 0;
  const move = (i: number): number => rungs[line[i]!]! - rungs[line[i - 1]!]!;

  const allowed = (i: number, rung: number, leaps: number): boolean => {
    const previous = line[i - 1]!;
    const step = rungs[rung]! - rungs[previous]!;
    const size = Math.abs(step);
    if (size > (task.quick[i] ? Math.min(QUICK_LEAP, task.maxLeap) : task.maxLeap)) return false;
    if (size >= LEAP && (leaps >= task.maxLeaps || i === count - 1)) return false;
    const crossed = Math.abs(strings[rung]! - strings[previous]!);
    if (crossed > task.maxStringCross) return false;
    const model = task.mirror[i]!;
    if (model > 0 && Math.sign(step) !== Math.sign(move(model)) * task.mirrorSign[i]!) return false;
    if (i === count - 1 && step === 0) return false;
    if (i >= 2) {
      const before = move(i - 1);
      if (Math.abs(before) >= LEAP && (size === 0 || size >= LEAP || step > 0 === before > 0)) return false;
      if (before === 0 && step === 0) return false;
      if (i >= 3 && rung === line[i - 2] && previous === line[i - 3] && rung !== previous) return false;
      if (step !== 0) {
        let run = 2;
        for (let j = i - 1; j >= 1 && Math.sign(move(j)) === Math.sign(step); j--) run++;
        if (run > LONGEST_RUN) return false;
      }
    }
    return true;
  };

  const weight = (i: number, rung: number): number => {
    const apart = Math.abs(rung - line[i - 1]!);
    const near = apart === 1 ? 8 : apart === 2 ? 5 : apart === 0 ? 2 : 3;
    return task.strong[i] && task.chord[rung] ? near * 3 : near;
  };

  const extend = (i: number, leaps: number): boolean => {
    if (i === count) return new Set(line).size >= Math.min(4, Math.ceil(count / 2));
    const options: number[] = [];
    const weights: number[] = [];
    let total = 0;
    const fixed = i === task.climaxAt ? task.climax : i === count - 1 ? task.last : -1;
    const low = fixed >= 0 ? fixed : 0;
    const high = fixed >= 0 ? fixed : task.climax - 1;
    for (let rung = low; rung <= high; rung++) {
      if (!allowed(i, rung, leaps)) continue;
      options.push(rung);
      total += weights[weights.push(weight(i, rung)) - 1]!;
    }
    while (options.length > 0) {
      if (++nodes > BUDGET) return false;
      let ticket = random.below(total);
      let k = 0;
      while (ticket >= weights[k]!) ticket -= weights[k++]!;
      const rung = options[k]!;
      line.push(rung);
      const leap = Math.abs(move(i)) >= LEAP ? 1 : 0;
      if (extend(i + 1, leaps + leap)) return true;
      line.pop();
      total -= weights[k]!;
      options.splice(k, 1);
      weights.splice(k, 1);
    }
    return false;
  };
  return extend(1, 0) ? line : null;
}

/** Notes of the longest stretch that moves in one direction throughout. */
export function longestRun(pitches: readonly number[]): number {
  let longest = 1;
  let run = 1;
  let way = 0;
  for (let i = 1; i < pitches.length; i++) {
    const now = Math.sign(pitches[i]! - pitches[i - 1]!);
    run = now === 0 ? 1 : now === way ? run + 1 : 2;
    way = now;
    longest = Math.max(longest, run);
  }
  return longest;
}
