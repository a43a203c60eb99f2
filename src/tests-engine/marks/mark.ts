import { account, type Account } from './account.ts';
import { readings } from './readings/index.ts';
import { findRepeats } from './readings/repeats.ts';
import { kindest, markOf, prepare } from './prepare.ts';
import { median } from '../../music/numbers.ts';
import { DEFAULT_THRESHOLDS, outcomeOf } from '../../music/outcome.ts';
import { parseThresholds } from '../../music/schema/index.ts';
import { timing } from './timing.ts';
import { TRUST_FULL, trustIn } from './trust.ts';
import { MARKER_VERSION, type Advice, type Mark, type MarkRequest, type PartName } from './types.ts';
import { PITCH_EDGE, round, verdicts } from './verdicts.ts';

/** Unclear notes that could move the mark by no more than this are passed over in silence. */
const RANGE_FROM = 5;

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
 * @throws TypeError or RangeError where `thresholds` are none (`parseThresholds`)
 */
export function markTake(request: MarkRequest): Mark {
  const thresholds = parseThresholds(request.thresholds ?? DEFAULT_THRESHOLDS);
  if (request.target.length === 0) return unmarked('no-target', 'nothing-played');
  if (request.played.length === 0) return unmarked('nothing-played', 'nothing-played');
  const prepared = prepare(request);
  const { played, rule, unit, zeroSec, writtenOrder, playedOrder } = prepared;
  const free = request.clock === 'free';
  const confidence = (j: number): number => played[j]?.confidence ?? 1;

  const reading = kindest(prepared, trustIn);
  const acc: Account = account(reading, rule);
  let range: [number, number] | null = null;
  if (played.some((x) => (x.confidence ?? 1) < TRUST_FULL)) {
    const low = markOf(kindest(prepared, () => 1));
    const high = markOf(kindest(prepared, (c) => (c < TRUST_FULL ? 0 : 1)));
    if (high - low > RANGE_FROM) range = [round(low), round(high)];
  }
  // Unclear notes that could make it anything, from one end of "close" to the other: no mark.
  const undecided = range !== null && range[1] - range[0] > thresholds.there - thresholds.close;

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
    zeroSec: zeroSec * unit,
  });
  const shown = round(markOf(reading));
  return {
    version: MARKER_VERSION,
    mark: undecided ? null : shown,
    reason: undecided ? 'unclear' : null,
    range,
    outcome: undecided ? null : outcomeOf(shown, thresholds),
    lost: split(acc.parts, 100 - shown),
    verdicts: found.map((v) => ({
      ...v,
      targetIndex: v.targetIndex === null ? null : writtenOrder[v.targetIndex]!,
      playedIndex: v.playedIndex === null ? null : playedOrder[v.playedIndex]!,
    })),
    timing: { ...time, tempoRatio: round(1 / (reading.rate * (reading.straight?.rate ?? 1) * unit), 1000) },
    transposedBy: round(reading.shift + detuned(acc.answers), 100),
    readings: told,
    advice: told[0] ?? { code: shown >= 99 ? 'all-right' : 'nearly', values: {} },
  };
}

/** Semitones that the notes in tune lie off the key of the reading: keys stand a fifth of a semitone apart and more. */
const detuned = (answers: Account['answers']): number =>
  median(answers.map((a) => a.d).filter((d) => Math.abs(d) <= PITCH_EDGE));

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
