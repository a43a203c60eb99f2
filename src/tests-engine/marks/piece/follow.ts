import { ramp } from '../cost.ts';
import type { PiecePlayed, PieceTarget } from './types.ts';

/** One written note answered by one played. */
export interface Followed {
  readonly target: number;
  readonly played: number;
  /** The way came here by a jump: not from one of the notes just before. */
  readonly jumped: boolean;
}

/** How a way through the piece is paid for, in notes. Round numbers; `bench:pieces` says how they do. */
const MISSED = 1;
const EXTRA = 0.6;
const WRONG_PITCH = 0.7;
/** The right note in another octave: half of that. */
const OTHER_OCTAVE = 0.35;
const OFF_TIME = 0.7;
/**
 * A note in step with the one before it, but not where the backing is. Dear enough that of two places that sound alike the
 * one where the backing is gets chosen, and cheap enough that a player who has lost it is followed.
 */
const BESIDE = 0.15;
/** To any other place of the piece: as dear as two notes, so that a bar of wrong notes stays one. */
const JUMP = 2;
/** To where the backing is: what a player who has lost it looks for. */
const JUMP_HOME = 1;
/** A jump is a little dearer by each second between where the player is and the backing. */
const FAR_PER_SEC = 0.01;
const FARTHEST = 0.5;
/** Written and played notes that may lie between two answers before it is a jump. */
const REACH = 4;
/** What is not heard clearly is hardly held against anyone. */
const weight = (confidence: number): number => Math.min(1, Math.max(0.2, (confidence - 0.3) / 0.4));

export interface FollowOrder {
  readonly target: readonly PieceTarget[];
  /** On the backing's clock: what is constant has been taken out. */
  readonly played: readonly PiecePlayed[];
  /** Half-width of full credit, and ramp to none, s. */
  readonly freeSec: number;
  readonly rampSec: number;
}

/**
 * Follows a player through a piece whose backing goes on: which written note each played one answers, with jumps to any
 * other place, back or on, at a fixed price (after the idea of an HMM with arbitrary repeats and skips: Nakamura, Nakamura &
 * Sagayama 2016, IEEE/ACM TASLP 24(2), 329–339; here a shortest path, and time is judged against the backing or the
 * note before, whichever is kinder). O(written × played).
 *
 * @returns in order of playing; empty where nothing was played or written
 */
export function follow({ target, played, freeSec, rampSec }: FollowOrder): Followed[] {
  const n = target.length;
  const m = played.length;
  if (n === 0 || m === 0) return [];
  const best = new Float64Array(m * n).fill(Infinity);
  const from = new Int32Array(m * n).fill(-1);
  const jumped = new Uint8Array(m * n);
  const extraBefore = new Float64Array(m + 1);
  const trust = played.map(({ confidence }) => weight(confidence));
  for (let j = 0; j < m; j++) extraBefore[j + 1] = extraBefore[j]! + EXTRA * trust[j]!;

  // Cheapest answer so far, with the extra notes since: from where a jump begins.
  let least = Infinity;
  let leastAt = -1;
  for (let j = 0; j < m; j++) {
    const { onsetSec: s, midi: q } = played[j]!;
    const row = j * n;
    const wj = trust[j]!;
    for (let i = 0; i < n; i++) {
      const { onsetSec: t, midi: p } = target[i]!;
      const off = Math.abs(q - p);
      const pitch = off < 0.5 ? 0 : wj * (off % 12 < 0.5 ? OTHER_OCTAVE : WRONG_PITCH);
      const time = OFF_TIME * ramp(s - t, freeSec, rampSec);
      const beside = time < BESIDE ? time : BESIDE;
      // The first answer of all, or after a jump, chooses its place anew.
      const missedBefore = i * MISSED;
      let cost = extraBefore[j]! + (missedBefore < JUMP ? missedBefore : JUMP) + beside;
      let came = -1;
      let leapt = 0;
      // Of places that sound alike the nearer one.
      const far = Math.min(FARTHEST, FAR_PER_SEC * Math.abs(s - t));
      const leap = least + (time < BESIDE ? JUMP_HOME : JUMP + far) + beside;
      if (leap < cost) {
        cost = leap;
        came = leastAt;
        leapt = 1;
      }
      for (let dj = 1; dj <= REACH && dj <= j; dj++) {
        const jj = j - dj;
        const between = extraBefore[j]! - extraBefore[jj + 1]!;
        if (between >= cost) break;
        const step = s - played[jj]!.onsetSec;
        for (let di = 1; di <= REACH && di <= i; di++) {
          const ii = i - di;
          const c0 = best[jj * n + ii]! + between + (di - 1) * MISSED;
          if (c0 >= cost) continue;
          const inStep =
            BESIDE + (OFF_TIME - BESIDE) * ramp(step - (t - target[ii]!.onsetSec), freeSec, rampSec);
          const c = c0 + (time < inStep ? time : inStep);
          if (c < cost) {
            cost = c;
            came = jj * n + ii;
            leapt = 0;
          }
        }
      }
      best[row + i] = cost + pitch;
      from[row + i] = came;
      jumped[row + i] = leapt;
    }
    least += EXTRA * wj;
    for (let i = 0; i < n; i++)
      if (best[row + i]! < least) {
        least = best[row + i]!;
        leastAt = row + i;
      }
  }
  // The end may be reached or not: what is left unplayed costs no more than a jump.
  let end = -1;
  let cheapest = Infinity;
  for (let j = 0; j < m; j++)
    for (let i = 0; i < n; i++) {
      const c =
        best[j * n + i]! + extraBefore[m]! - extraBefore[j + 1]! + Math.min((n - 1 - i) * MISSED, JUMP);
      if (c < cheapest) {
        cheapest = c;
        end = j * n + i;
      }
    }
  const way: Followed[] = [];
  for (let node = end; node >= 0; node = from[node]!)
    way.push({ target: node % n, played: Math.floor(node / n), jumped: jumped[node] === 1 });
  return way.reverse();
}
