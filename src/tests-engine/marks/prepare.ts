import { bestOnBacking } from './backing.ts';
import { stepLimits } from './cost.ts';
import { MELODY, RHYTHM, type Rule } from './rule.ts';
import type { Limits, Lists, Reading } from './placed.ts';
import { bestFree } from './search.ts';
import { borrowPerSec, fullCreditSec, rampSec, shortestValueSec, UNKNOWN_LATENCY_SEC } from './tolerances.ts';
import type { MarkRequest, PlayedNote, TargetNote } from './types.ts';

/** A request brought into order: sorted lists as numbers, the rule that applies, one unit of time. */
export interface Prepared {
  readonly request: MarkRequest;
  readonly target: readonly TargetNote[];
  readonly played: readonly PlayedNote[];
  /** Index in the request of each sorted note. */
  readonly writtenOrder: readonly number[];
  readonly playedOrder: readonly number[];
  readonly lists: Lists;
  readonly rule: Rule;
  readonly latencySec: number;
  /** Frame seconds to a written second, and the written time of the frame's zero. */
  readonly unit: number;
  readonly zeroSec: number;
}

/**
 * Own tempo: targets are brought to this mean distance of onsets, a middle tempo (the graded rhythms have 0.45 s, the
 * melodies 0.36), so that the mark does not depend on the tempo in which the target was written down.
 */
const FREE_MEAN_GAP_SEC = 0.4;

export function prepare(request: MarkRequest): Prepared {
  const [target, writtenOrder] = inOrder(request.target);
  const [played, playedOrder] = inOrder(request.played);
  const pitched = target.some((x) => x.midi !== undefined) && played.some((x) => x.midi !== undefined);
  const free = request.clock === 'free';
  const n = target.length;
  const [firstSec, lastSec] = [target[0]?.onsetSec ?? 0, target.at(-1)?.onsetSec ?? 0];
  const zeroSec = free ? firstSec : 0;
  const span = lastSec - firstSec;
  const unit = free && span > 0 ? (FREE_MEAN_GAP_SEC * (n - 1)) / span : 1;
  return {
    request,
    target,
    played,
    writtenOrder,
    playedOrder,
    lists: {
      t: Float64Array.from(target, (x) => (x.onsetSec - zeroSec) * unit),
      p: Float64Array.from(target, (x) => (pitched ? (x.midi ?? NaN) : NaN)),
      s: Float64Array.from(played, (x) => x.onsetSec),
      q: Float64Array.from(played, (x) => x.midi ?? NaN),
    },
    rule: pitched ? MELODY : RHYTHM,
    latencySec: free ? 0 : Math.min(UNKNOWN_LATENCY_SEC, (request.latencyUncertaintyMs ?? 0) / 1000),
    unit,
    zeroSec,
  };
}

/** The notes by onset, and the place each had. */
function inOrder<T extends { readonly onsetSec: number }>(
  notes: readonly T[],
): [notes: T[], places: number[]] {
  const sorted = [...notes.entries()].sort(([, a], [, b]) => a.onsetSec - b.onsetSec);
  return [sorted.map(([, note]) => note), sorted.map(([place]) => place)];
}

/**
 * The kindest reading of the take.
 *
 * @param trust how far (0…1) a note of a given confidence may be held against the student
 */
export function kindest(prepared: Prepared, trust: (confidence: number) => number): Reading {
  const { target, played, lists, rule, latencySec, request } = prepared;
  const shortest = shortestValueSec(lists.t);
  const trusted = Float64Array.from(played, (x) => trust(x.confidence ?? 1));
  const beat = request.clock === 'backing';
  const tol = Float64Array.from(target, (x) => fullCreditSec(shortest, latencySec, x.swungOffBeat === true));
  const width = new Float64Array(target.length).fill(rampSec(request.level));
  const extra = trusted.map((x) => rule.extra * x);
  const extraBefore = new Float64Array(extra.length + 1);
  for (let j = 0; j < extra.length; j++) extraBefore[j + 1] = extraBefore[j]! + extra[j]!;
  const limits: Limits = {
    tol,
    width,
    ...stepLimits(lists.t, tol, width, beat),
    extra,
    extraBefore,
    leastExtra: Math.min(...extra),
    trust: trusted,
    beat,
    borrow: rule.pitch > 0 ? borrowPerSec(target.length) : 0,
    slack: 0,
    bend: 0,
  };
  return !beat
    ? bestFree(lists, limits, rule, request.transposition)
    : bestOnBacking(lists, limits, rule, request.transposition, latencySec);
}

/** Mark 0…100 of a reading, unrounded. */
export const markOf = (reading: Reading): number =>
  100 * (1 - Math.min(1, reading.cost / reading.frame.t.length));
