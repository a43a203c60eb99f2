import * as v from 'valibot';
import type { PieceBar, PiecePart, PiecePassage, PieceTrack } from '../../../music/piece.ts';
import type { Instrument, Key, Metre } from '../../../music/score.ts';
import { barTicks } from '../../../music/metre.ts';
import { firstIssue, LIMITS, pieceTask } from '../../../music/schema/index.ts';
import type { PieceTask } from '../../../music/task.ts';
import { bpm, midi, secToTicks } from '../../../music/units.ts';

export interface PieceRequestOf {
  readonly instrument: Instrument;
  readonly tuning: readonly number[];
  readonly track: PieceTrack;
  readonly title: string;
  /** What a file of notes told; null: the recording alone. */
  readonly part: PiecePart | null;
  /** Where there is no part: how its bars are counted. */
  readonly metre: Metre;
  readonly key: Key;
  readonly passage: PiecePassage | null;
  /** 1 = at the recording's tempo, 0.5 = half as fast. */
  readonly tempoFactor?: number;
}

/** Bars of the recording's own tempo until it ends. */
function evenBars(metre: Metre, { durationSec, barOneSec, bpm: tempo }: PieceTrack): PieceBar[] {
  const length = barTicks(metre);
  const count = Math.floor((secToTicks(Math.max(0, durationSec - barOneSec), tempo) + length / 4) / length);
  return Array.from({ length: Math.max(1, Math.min(LIMITS.pieceBars[1], count)) }, (_, k) => ({
    startTicks: k * length,
    durationTicks: length,
    printed: k + 1,
  }));
}

/**
 * A piece as a task: the part's own map of tempi, brought to the tempo at which the recording has its first bar.
 * @throws RangeError with the first thing that cannot be
 */
export function makePieceTask(request: PieceRequestOf): PieceTask {
  const { instrument, tuning, track, title, part, passage, tempoFactor = 1 } = request;
  const metre = part?.metre ?? request.metre;
  const bars = part?.bars ?? evenBars(metre, track);
  const written = part && part.tempi.length > 0 ? part.tempi : [{ atTicks: 0, bpm: track.bpm }];
  const scale = (track.bpm / written[0]!.bpm) * tempoFactor;
  const tempi = written.map((mark) => ({ ...mark, bpm: mark.bpm * scale }));
  const task: PieceTask = {
    version: 1,
    kind: 'piece',
    instrument,
    tuning: tuning.map(midi),
    level: null,
    seed: null,
    tempoBpm: bpm(tempi[0]!.bpm),
    key: request.key,
    swing: part?.swing ?? 0.5,
    phrase: { metre, bars: bars.length, notes: [] },
    title: title.slice(0, LIMITS.titleSigns),
    bars,
    part: part?.notes ?? null,
    tempi,
    track: { ...track, name: track.name.slice(0, LIMITS.titleSigns) },
    passage,
  };
  const checked = v.safeParse(pieceTask, JSON.parse(JSON.stringify(task)), { abortEarly: true });
  if (!checked.success) throw new RangeError(`this is no piece: ${firstIssue(checked.issues)}`);
  return task;
}
