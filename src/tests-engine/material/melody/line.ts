import type { Random } from '../random/random.ts';

/** What every line of one rhythm over one range has to satisfy. Rungs index the ladder of scale notes under the hand. */
export interface LineFrame {
  /** Semitones from the tonic, rising. */
  readonly rungs: readonly number[];
  /** String of each rung (1 = highest). */
  readonly strings: readonly number[];
  /** Rungs that belong to the tonic chord. */
  readonly chord: readonly boolean[];
  readonly count: number;
  /** Notes on a stress of the bar. */
  readonly strong: readonly boolean[];
  /** Notes that follow the one before within a quaver. */
  readonly quick: readonly boolean[];
  readonly maxLeap: number;
  readonly maxLeaps: number;
  readonly maxStringCross: number;
}

/** What is drawn for one attempt at a line. */
export interface LineAttempt {
  readonly first: number;
  readonly last: number;
  /** The one highest note: which note of the line, which rung. */
  readonly climaxAt: number;
  readonly climax: number;
  /** mirror[i] = j: the move into note i goes the way of the move into note j, times `mirrorSign[i]`; 0 = free. */
  readonly mirror: readonly number[];
  readonly mirrorSign: readonly number[];
}

/** A fourth or more counts as a leap; anything up to a major third does not. */
export const LEAP = 5;
/** Four notes in one direction are a figure, five by step begin to be a scale exercise. */
export const LONGEST_RUN = 4;
/** Within a quaver no more than a fifth: further apart two strings would have to be crossed in a hurry. */
const QUICK_LEAP = 7;
/** Nodes of the search before the task is given up and another one drawn: 12 notes × 8 rungs, twice over. */
const BUDGET = 200;

const OPTIONS: number[][] = [];
const WEIGHTS: number[][] = [];

/**
 * Looks for lines of `count` rungs by randomised depth-first search. The rules: one climax; no interval over
 * `maxLeap`; a leap is left by a step or third the other way; the last note is reached without a leap and not
 * by repetition; at most {@link LONGEST_RUN} notes in one direction; no note three times in a row; no to-and-fro
 * over four notes; no more strings crossed than stated, and no more than a fifth within a quaver; the answer's
 * moves go the way of the opening's.
 *
 * A level's stock takes some hundred thousand steps of it: what each note may be is written into lists that
 * all searches share, one after the other.
 */
export class LineSearch {
  readonly #frame: LineFrame;
  readonly #random: Random;
  #attempt!: LineAttempt;
  readonly #line: number[] = [];
  #nodes = 0;

  constructor(frame: LineFrame, random: Random) {
    this.#frame = frame;
    this.#random = random;
    while (OPTIONS.length < frame.count) {
      OPTIONS.push([]);
      WEIGHTS.push([]);
    }
  }

  /** The rungs of a line, or null when the budget runs out or there is none. */
  find(attempt: LineAttempt): number[] | null {
    this.#attempt = attempt;
    this.#line.length = 0;
    this.#line.push(attempt.first);
    this.#nodes = 0;
    return this.#extend(1, 0) ? [...this.#line] : null;
  }

  /** Semitones of the move into note `i` of the line so far. */
  #move(i: number): number {
    const { rungs } = this.#frame;
    return rungs[this.#line[i]!]! - rungs[this.#line[i - 1]!]!;
  }

  /** Notes of the stretch that ends with note `i − 1` and goes the way of `way`; 1 when it went another way. */
  #run(i: number, way: number): number {
    let run = 1;
    for (let j = i - 1; j >= 1 && Math.sign(this.#move(j)) === way; j--) run++;
    return run;
  }

  /** Fills in every note from `i` on; false when there is no way or the budget is spent. */
  #extend(i: number, leaps: number): boolean {
    const { count } = this.#frame;
    const line = this.#line;
    if (i === count) return different(line) >= Math.min(4, Math.ceil(count / 2));
    const options = OPTIONS[i]!;
    const weights = WEIGHTS[i]!;
    let left = this.#gather(i, leaps, options, weights);
    let total = 0;
    for (let k = 0; k < left; k++) total += weights[k]!;
    while (left > 0) {
      if (++this.#nodes > BUDGET) return false;
      let ticket = this.#random.below(total);
      let k = 0;
      while (ticket >= weights[k]!) ticket -= weights[k++]!;
      line.push(options[k]!);
      const leap = Math.abs(this.#move(i)) >= LEAP ? 1 : 0;
      if (this.#extend(i + 1, leaps + leap)) return true;
      line.pop();
      total -= weights[k]!;
      left--;
      for (; k < left; k++) {
        options[k] = options[k + 1]!;
        weights[k] = weights[k + 1]!;
      }
    }
    return false;
  }

  /** Writes down the rungs that note `i` may stand on, with their weights; returns how many. */
  #gather(i: number, leaps: number, options: number[], weights: number[]): number {
    const { rungs, strings, chord, count, maxLeap, maxLeaps, maxStringCross, quick, strong } = this.#frame;
    const { mirror, mirrorSign, climax, climaxAt } = this.#attempt;
    const line = this.#line;
    const last = i === count - 1;
    const previous = line[i - 1]!;
    const from = rungs[previous]!;
    const fromString = strings[previous]!;
    const widest = quick[i] ? Math.min(QUICK_LEAP, maxLeap) : maxLeap;
    const mayLeap = leaps < maxLeaps && !last;
    const model = mirror[i]!;
    const way = model > 0 ? Math.sign(this.#move(model)) * mirrorSign[i]! : 0;
    const before = i >= 2 ? this.#move(i - 1) : 1;
    const leapt = Math.abs(before) >= LEAP;
    const mayRise = i < 2 || this.#run(i, 1) < LONGEST_RUN;
    const mayFall = i < 2 || this.#run(i, -1) < LONGEST_RUN;
    // A third time to and fro.
    const returning = i >= 3 && previous === line[i - 3] && line[i - 2] !== previous ? line[i - 2]! : -1;
    const near = strong[i] ? 3 : 1;
    const fixed = i === climaxAt ? climax : last ? this.#attempt.last : -1;
    const low = fixed >= 0 ? fixed : 0;
    const high = fixed >= 0 ? fixed : climax - 1;
    let found = 0;
    for (let rung = low; rung <= high; rung++) {
      const step = rungs[rung]! - from;
      const size = Math.abs(step);
      if (size > widest || (size >= LEAP && !mayLeap)) continue;
      if (Math.abs(strings[rung]! - fromString) > maxStringCross) continue;
      if (model > 0 && Math.sign(step) !== way) continue;
      if (step === 0 ? last || before === 0 : step > 0 ? !mayRise : !mayFall) continue;
      if (leapt && (size === 0 || size >= LEAP || step > 0 === before > 0)) continue;
      if (rung === returning) continue;
      const apart = Math.abs(rung - previous);
      const weight = apart === 1 ? 8 : apart === 2 ? 5 : apart === 0 ? 2 : 3;
      options[found] = rung;
      weights[found++] = chord[rung] ? weight * near : weight;
    }
    return found;
  }
}

/** How many different rungs a line stands on; a few, so looking back beats a set. */
function different(line: readonly number[]): number {
  let count = 0;
  for (let i = 0; i < line.length; i++) if (line.indexOf(line[i]!) === i) count++;
  return count;
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
