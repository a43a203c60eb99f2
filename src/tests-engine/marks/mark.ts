import { account, type Account } from './account.ts';
import { readings } from './readings/index.ts';
import { findRepeats } from './readings/repeats.ts';
import { BACKING_TIME_SHIFT, FREE_TIME_SHIFT, MELODY, RHYTHM } from './rule.ts';
import { bestFree, bestOnBacking, type Limits, type Lists, type Reading } from './search.ts';
import { timing } from './timing.ts';
import { fullCreditSec, rampSec, shortestValueSec, UNKNOWN_LATENCY_SEC } from './tolerances.ts';
import {
  MARKER_VERSION,
  type Advice,
  type Mark,
  type MarkRequest,
  type Outcome,
  type PartName,
} from './types.ts';
import { round, verdicts } from './verdicts.ts';

export const DEFAULT_THRESHOLDS = { there: 85, close: 60 } as const;
/** Unclear notes that could move the mark by no more than this are passed over in silence. */
const RANGE_FROM = 5;
/** Own tempo: targets are brought to this mean distance of onsets, so that no tempo is marked more finely. */
const FREE_MEAN_GAP_SEC = 0.4;
/** Confidence under which a note counts for nothing, and from which it counts in full. */
const TRUST_NONE = 0.3;
const TRUST_FULL = 0.7;

const NOTHING: Readonly<Record<PartName, number>> = { notes: 0, rhythm: 0, pulse: 0, continuity: 0 };

function unmarked(reason: Mark['reason'], code: Advice['code']): Mark {
  return {
    version: MARKER_VERSION,
    mark: null,
    reason,
    range: null,
    outcome: null,
    lost: NOTHING,
    verdicts: [],
    timing: { biasMs: null, unevennessMs: null, driftPercent: null, tempoRatio: 1 },
    transposedBy: 0,
    readings: [],
    advice: { code, values: {} },
  };
}

/**
 * Marks a take against its target: the kindest reading of what was played, and what it costs.
 *
 * Both lists in order of onset (sorted here if they are not). Onsets in seconds: on clock `backing` both count
 * from the same instant; on `free` each from its own. Same lists, same mark.
 *
 * @returns `mark` null with `reason` where there is nothing to mark; never throws on lists that
 * `parseNoteList` accepts
 */
export function markTake(request: MarkRequest): Mark {
  if (request.target.length === 0) return unmarked('no-target', 'nothing-played');
  if (request.played.length === 0) return unmarked('nothing-played', 'nothing-played');
  const writtenOrder = inOrder(request.target);
  const playedOrder = inOrder(request.played);
  const target = writtenOrder.map((k) => request.target[k]);
  const played = playedOrder.map((k) => request.played[k]);
  const pitched = target.some((x) => x.midi !== undefined) && played.some((x) => x.midi !== undefined);
  const rule = pitched ? MELODY : RHYTHM;
  const free = request.clock === 'free';
  const timeShift = free ? FREE_TIME_SHIFT : BACKING_TIME_SHIFT;
  const latencySec = Math.min(UNKNOWN_LATENCY_SEC, (request.latencyUncertaintyMs ?? 0) / 1000);

  // Own tempo: one common unit of time, so that the mark does not depend on how the target was timed.
  const n = target.length;
  const zero = free ? target[0].onsetSec : 0;
  const span = target[n - 1].onsetSec - target[0].onsetSec;
  const unit = free && span > 0 ? (FREE_MEAN_GAP_SEC * (n - 1)) / span : 1;
  const lists: Lists = {
    t: Float64Array.from(target, (x) => (x.onsetSec - zero) * unit),
    p: Float64Array.from(target, (x) => x.midi ?? NaN),
    s: Float64Array.from(played, (x) => x.onsetSec),
    q: Float64Array.from(played, (x) => x.midi ?? NaN),
  };
  const shortest = shortestValueSec(lists.t);
  const confidence = (j: number): number => played[j].confidence ?? 1;
  const limits = (trust: (confidence: number) => number): Limits => ({
    tol: Float64Array.from(target, (x) =>
      fullCreditSec(shortest, free ? 0 : latencySec, x.swungOffBeat === true),
    ),
    width: new Float64Array(n).fill(rampSec(request.level)),
    missed: new Float64Array(n).fill(rule.missed),
    extra: Float64Array.from(played, (x) => rule.extra * trust(x.confidence ?? 1)),
    trust: Float64Array.from(played, (x) => trust(x.confidence ?? 1)),
  });
  const best = (trust: (confidence: number) => number): Reading =>
    free
      ? bestFree(lists, limits(trust), rule, timeShift, request.transposition)
      : bestOnBacking(lists, limits(trust), rule, timeShift, request.transposition, latencySec);
  const markOf = (cost: number): number => 100 * (1 - Math.min(1, cost / n));

  const reading = best((c) => Math.max(0, Math.min(1, (c - TRUST_NONE) / (TRUST_FULL - TRUST_NONE))));
  const acc: Account = account(reading, rule, timeShift, free);
  const mark = markOf(reading.cost);
  let range: [number, number] | null = null;
  if (played.some((x) => (x.confidence ?? 1) < TRUST_FULL)) {
    const low = markOf(best(() => 1).cost);
    const high = markOf(best((c) => (c < TRUST_FULL ? 0 : 1)).cost);
    if (high - low > RANGE_FROM) range = [round(low), round(high)];
  }
  const thresholds = request.thresholds ?? DEFAULT_THRESHOLDS;
  // Unclear notes that could make it anything: no mark.
  const undecided = range !== null && range[0] < thresholds.close && range[1] >= thresholds.there;

  const judged = verdicts(reading, acc, rule, confidence);
  const repeats = findRepeats(reading, acc.answers, judged);
  const again = new Set(repeats.flatMap((r) => r.played));
  const found = judged.map((v) =>
    v.kind === 'extra' && again.has(v.playedIndex!) ? { ...v, repeated: true } : v,
  );
  const time = timing(acc.answers, reading, free ? 0 : reading.start);
  const told = readings({
    reading,
    account: acc,
    verdicts: found,
    repeats,
    timing: time,
    clock: request.clock,
    beatSec: request.beatSec === undefined ? null : request.beatSec * unit,
    beatsPerBar: request.beatsPerBar ?? 4,
    zeroSec: zero * unit,
  });
  const shown = round(mark);
  return {
    version: MARKER_VERSION,
    mark: undecided ? null : shown,
    reason: undecided ? 'unclear' : null,
    range,
    outcome: undecided ? null : outcomeOf(shown, thresholds),
    lost: split(acc.parts, 100 - shown),
    verdicts: found.map((v) => ({
      ...v,
      targetIndex: v.targetIndex === null ? null : writtenOrder[v.targetIndex],
      playedIndex: v.playedIndex === null ? null : playedOrder[v.playedIndex],
    })),
    timing: { ...time, tempoRatio: free ? round(1 / (reading.rate * unit), 1000) : 1 },
    transposedBy: round(reading.shift, 100),
    readings: told,
    advice: told[0] ?? { code: shown >= 99 ? 'all-right' : 'nearly', values: {} },
  };
}

function inOrder(notes: readonly { readonly onsetSec: number }[]): number[] {
  return notes.map((_, k) => k).sort((a, b) => notes[a].onsetSec - notes[b].onsetSec);
}

export function outcomeOf(
  mark: number,
  thresholds: { readonly there: number; readonly close: number },
): Outcome {
  return mark >= thresholds.there ? 'there' : mark >= thresholds.close ? 'close' : 'not-yet';
}

/** Shares `points` of 100 out as the parts were lost; the largest takes the rounding. */
function split(parts: Account['parts'], points: number): Record<PartName, number> {
  const total = parts.notes + parts.rhythm + parts.pulse + parts.continuity;
  const lost = { ...NOTHING } as Record<PartName, number>;
  if (total <= 0 || points <= 0) return lost;
  let largest: PartName = 'notes';
  let sum = 0;
  for (const name of Object.keys(lost) as PartName[]) {
    lost[name] = round((points * parts[name]) / total);
    sum += lost[name];
    if (parts[name] > parts[largest]) largest = name;
  }
  lost[largest] = round(lost[largest] + points - sum);
  return lost;
}
