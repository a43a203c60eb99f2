import type { Random } from '../random/random.ts';

/** A set of rungs: bit r is rung r. A hand of four frets on eight strings holds at most 32 pitches. */
type Rungs = number;

/** What may follow each rung of a ladder under a hand, whatever the rhythm; worked out once. */
export interface Steps {
  /** Rungs within the level's largest leap, and no more strings away than the level allows, from each rung. */
  readonly reach: readonly Rungs[];
  /** Those of them that a hand reaches within a quaver. */
  readonly quick: readonly Rungs[];
  /** Those of them that are no leap. */
  readonly near: readonly Rungs[];
  /** How likely a rung is to follow another on a weak place, at `from × rungs + to`; and on a stress. */
  readonly weak: readonly number[];
  readonly strong: readonly number[];
}

/** What every line of one rhythm over one range has to satisfy. Rungs index the ladder of scale notes under the hand. */
export interface LineFrame {
  /** Semitones from the tonic, rising; at most 32. */
  readonly rungs: readonly number[];
  readonly steps: Steps;
  readonly count: number;
  /** Notes on a stress of the bar. */
  readonly strong: readonly boolean[];
  /** Notes that follow the one before within a quaver. */
  readonly quick: readonly boolean[];
  readonly maxLeaps: number;
  /** Rungs of which a line stands on at least one; 0: on any. */
  readonly colour: Rungs;
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
/** A stressed note is three times as likely to belong to the chord. */
const ON_STRESS = 3;

/** Steps before thirds, larger moves before none. @param apart rungs between two notes. */
const likely = (apart: number): number => (apart === 1 ? 8 : apart === 2 ? 5 : apart === 0 ? 2 : 3);

/**
 * @param strings string of each rung (1 = highest); @param chord rungs that belong to the tonic chord.
 */
export function stepsOf(
  rungs: readonly number[],
  strings: readonly number[],
  chord: readonly boolean[],
  { maxLeap, maxStringCross }: { readonly maxLeap: number; readonly maxStringCross: number },
): Steps {
  const within = (widest: number): Rungs[] =>
    rungs.map((from, i) =>
      rungs.reduce(
        (set, to, j) =>
          Math.abs(to - from) <= Math.min(widest, maxLeap) &&
          Math.abs(strings[j]! - strings[i]!) <= maxStringCross
            ? set | (1 << j)
            : set,
        0,
      ),
    );
  const weak = rungs.flatMap((_, i) => rungs.map((_, j) => likely(Math.abs(i - j))));
  const strong = weak.map((weight, at) => (chord[at % rungs.length] ? weight * ON_STRESS : weight));
  return { reach: within(maxLeap), quick: within(QUICK_LEAP), near: within(LEAP - 1), weak, strong };
}

/**
 * Looks for lines of `count` rungs by randomised depth-first search. The rules: one climax; no interval over
 * `maxLeap`; a leap is left by a step or third the other way; the last note is reached without a leap and not
 * by repetition; at most {@link LONGEST_RUN} notes in one direction; no note three times in a row; no to-and-fro
 * over four notes; no more strings crossed than stated, and no more than a fifth within a quaver; the answer's
 * moves go the way of the opening's.
 *
 * A level's stock takes some hundred thousand nodes of it: what may come next is a set held in one number.
 */
export class LineSearch {
  readonly #frame: LineFrame;
  readonly #random: Random;
  #attempt!: LineAttempt;
  readonly #line: number[];
  /** Which way the line moves into each note (1, 0, −1), and for how many moves it has gone that way. */
  readonly #ways: number[];
  readonly #streaks: number[];
  #nodes = 0;

  constructor(frame: LineFrame, random: Random) {
    this.#frame = frame;
    this.#random = random;
    this.#line = new Array<number>(frame.count).fill(0);
    this.#ways = new Array<number>(frame.count).fill(0);
    this.#streaks = new Array<number>(frame.count).fill(0);
  }

  /** The rungs of a line, or null when the budget runs out or there is none. */
  find(attempt: LineAttempt): number[] | null {
    this.#attempt = attempt;
    this.#line[0] = attempt.first;
    this.#nodes = 0;
    return this.#extend(1, 0) ? [...this.#line] : null;
  }

  /** Fills in every note from `i` on; false when there is no way or the budget is spent. */
  #extend(i: number, leaps: number): boolean {
    const { count, rungs, steps, strong, colour } = this.#frame;
    const line = this.#line;
    if (i === count)
      return different(line) >= Math.min(4, Math.ceil(count / 2)) && (colour === 0 || this.#shows(colour));
    const previous = line[i - 1]!;
    const weights = strong[i] ? steps.strong : steps.weak;
    const row = previous * rungs.length;
    let left = this.#next(i, leaps);
    let total = 0;
    for (let set = left; set !== 0; set &= set - 1) total += weights[row + lowest(set)]!;
    while (left !== 0) {
      if (++this.#nodes > BUDGET) return false;
      let ticket = this.#random.below(total);
      let set = left;
      let rung = lowest(set);
      while (ticket >= weights[row + rung]!) {
        ticket -= weights[row + rung]!;
        set &= set - 1;
        rung = lowest(set);
      }
      const way = rung > previous ? 1 : rung < previous ? -1 : 0;
      line[i] = rung;
      this.#ways[i] = way;
      this.#streaks[i] = i > 1 && this.#ways[i - 1] === way ? this.#streaks[i - 1]! + 1 : 1;
      const leap = Math.abs(rungs[rung]! - rungs[previous]!) >= LEAP ? 1 : 0;
      if (this.#extend(i + 1, leaps + leap)) return true;
      total -= weights[row + rung]!;
      left &= ~(1 << rung);
    }
    return false;
  }

  /** Does the line stand on one of these rungs? */
  #shows(wanted: Rungs): boolean {
    return this.#line.some((rung) => (wanted & (1 << rung)) !== 0);
  }

  /** The rungs that note `i` may stand on. */
  #next(i: number, leaps: number): Rungs {
    const { rungs, steps, count, maxLeaps, quick } = this.#frame;
    const { mirror, mirrorSign, climax, climaxAt } = this.#attempt;
    const line = this.#line;
    const last = i === count - 1;
    const previous = line[i - 1]!;
    const same = 1 << previous;
    const below = same - 1;
    const above = ~(same | below);
    // The climax is passed nowhere else.
    const allowed = i === climaxAt ? 1 << climax : last ? 1 << this.#attempt.last : (1 << climax) - 1;
    let set = allowed & (quick[i] ? steps.quick : steps.reach)[previous]!;
    if (last || leaps >= maxLeaps) set &= steps.near[previous]!;
    if (last) set &= ~same;
    const model = mirror[i]!;
    if (model > 0) {
      const way = this.#ways[model]! * mirrorSign[i]!;
      set &= way > 0 ? above : way < 0 ? below : same;
    }
    if (i < 2) return set;
    const before = this.#ways[i - 1]!;
    if (before === 0) return set & ~same;
    const isLongest = this.#streaks[i - 1]! + 1 >= LONGEST_RUN;
    if (isLongest) set &= before > 0 ? ~above : ~below;
    if (Math.abs(rungs[previous]! - rungs[line[i - 2]!]!) >= LEAP)
      set &= steps.near[previous]! & (before > 0 ? below : above);
    // A third time to and fro.
    if (i >= 3 && previous === line[i - 3]) set &= ~(1 << line[i - 2]!);
    return set;
  }
}

/** The lowest rung of a set that has one. */
const lowest = (set: Rungs): number => 31 - Math.clz32(set & -set);

/** How many different rungs a line stands on. */
function different(line: readonly number[]): number {
  let set = 0;
  for (let i = 0; i < line.length; i++) set |= 1 << line[i]!;
  let count = 0;
  for (; set !== 0; set &= set - 1) count++;
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
