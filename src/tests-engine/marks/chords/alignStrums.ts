import type { JudgedChord } from '../../../music/chords/index.ts';

/** A chord asked for at a time, or whenever the player is ready. */
export interface DueChord {
  readonly symbol: string;
  /** Seconds from beat 1; null where no time was asked. */
  readonly dueSec: number | null;
}

/** As much of a verdict on a strum as a mark is made from. */
export interface StrumVerdict extends Pick<JudgedChord, 'verdict' | 'doubt'> {
  readonly findings: Pick<JudgedChord['findings'], 'missing' | 'foreign' | 'lowerNote'>;
}

/** A strum of the take, with what it is as each of the chords that it may answer. */
export interface AnsweredStrum {
  /** First string, and full stroke: a rake lies between them. Seconds from beat 1. */
  readonly firstSec: number;
  readonly fullSec: number;
  /** By index of the chord asked for; only those that lie near enough. */
  readonly as: ReadonlyMap<number, StrumVerdict>;
}

/** Which strum answers which chord: `strums[k]` for chord k, or null; and the strums that answer none. */
export interface StrumAlignment {
  readonly answers: readonly (number | null)[];
  readonly extra: readonly number[];
}

/** No strum answers a chord this far away: by then the next is due at any tempo that is practised. */
const FARTHEST_SEC = 2;
/** A wrong chord in time answers rather than a right one so many seconds away. */
const WRONG_COSTS_SEC = 0.5;
const UNSURE_COSTS_SEC = 0.1;
/** A stroke too short to be told answers only where no full one does, be that wrong: the notes of a run are no chord. */
const SHORT_COSTS_SEC = 0.6;
/** A chord without answer, and a strum that answers none. */
const SKIP_COSTS_SEC = 0.75;

/**
 * Aligns strums with chords in order: the cheapest pairing by time and by what was heard (dynamic programming, as for notes). Without
 * times the order alone counts, and a wrong chord followed by the right one is answered by the right one.
 */
export function alignStrums(asked: readonly DueChord[], strums: readonly AnsweredStrum[]): StrumAlignment {
  const rows = asked.length + 1;
  const columns = strums.length + 1;
  const cost = new Float64Array(rows * columns);
  const from = new Uint8Array(rows * columns);
  for (let i = 0; i < rows; i++)
    for (let j = 0; j < columns; j++) {
      if (i === 0 && j === 0) continue;
      let best = Infinity;
      let way = 0;
      const take = (value: number, which: number): void => {
        if (value < best) [best, way] = [value, which];
      };
      if (i > 0 && j > 0)
        take(cost[(i - 1) * columns + j - 1]! + pairCost(asked[i - 1]!, strums[j - 1]!, i - 1), 1);
      if (i > 0) take(cost[(i - 1) * columns + j]! + SKIP_COSTS_SEC, 2);
      if (j > 0) take(cost[i * columns + j - 1]! + SKIP_COSTS_SEC / 2, 3);
      cost[i * columns + j] = best;
      from[i * columns + j] = way;
    }
  const answers = new Array<number | null>(asked.length).fill(null);
  const extra: number[] = [];
  for (let i = asked.length, j = strums.length; i > 0 || j > 0;) {
    const way = from[i * columns + j];
    if (way === 1) answers[--i] = --j;
    else if (way === 2) i--;
    else extra.unshift(--j);
  }
  return { answers, extra };
}

function pairCost({ dueSec }: DueChord, strum: AnsweredStrum, index: number): number {
  const judged = strum.as.get(index);
  const away = dueSec === null ? 0 : distance(dueSec, strum);
  if (!judged || away > FARTHEST_SEC) return Infinity;
  const unsure = judged.doubt === 'too-short' ? SHORT_COSTS_SEC : UNSURE_COSTS_SEC;
  return away + { yes: 0, 'cannot-tell': unsure, no: WRONG_COSTS_SEC }[judged.verdict];
}

/** How far a strum lies from the click: nothing while the click lies within its stroke. */
const distance = (dueSec: number, { firstSec, fullSec }: AnsweredStrum): number =>
  Math.max(0, firstSec - dueSec, dueSec - Math.max(firstSec, fullSec));
