import { hasChords } from '../../../music/piece.ts';
import { DEFAULT_THRESHOLDS, outcomeOf } from '../../../music/outcome.ts';
import type { HeardTake } from '../../../music/notes.ts';
import type { PieceTask } from '../../../music/task.ts';
import {
  markChords,
  markPiece,
  MARKER_VERSION,
  type Advice,
  type AnyMark,
  type Fact,
  type KeptForTeacher,
  type MarkedPiece,
  type NoteMark,
  type PieceEvent,
} from '../../marks/index.ts';
import { answeredStrums } from '../chords/taken.ts';
import type { MarkOptions } from '../types.ts';
import { dueStrokes } from './chords.ts';
import { beatSecOf, dueNotes, timesOf } from './times.ts';
import { timingOfTrack } from './timing.ts';

/** Share of struck groups that are chords from which on a part is one of chords. Ours. */
const MOSTLY_CHORDS = 0.5;

/** How a take of this piece is told: note by note, chord by chord, or kept for the teacher with facts of timing. */
export function wayOf({ part }: PieceTask): 'line' | 'chords' | 'teacher' {
  if (part === null || part.length === 0) return 'teacher';
  if (!hasChords(part)) return 'line';
  const starts = new Map<number, number>();
  for (const { startTicks } of part) starts.set(startTicks, (starts.get(startTicks) ?? 0) + 1);
  const chords = [...starts.values()].filter((count) => count >= 3).length;
  return chords >= MOSTLY_CHORDS * starts.size ? 'chords' : 'teacher';
}

/** The line of a take marked by bars, from its notes alone: for the picture as for the mark. */
export function markedLine(task: PieceTask, take: HeardTake, options: MarkOptions = {}): MarkedPiece {
  return markPiece({
    target: dueNotes(task),
    played: take.notes.map(({ onsetSec, midi, confidence }) => ({ onsetSec, midi, confidence })),
    barSecs: timesOf(task).barSecs,
    beatSec: beatSecOf(task),
    ...(options.latencyUncertaintyMs === undefined
      ? {}
      : { latencyUncertaintyMs: options.latencyUncertaintyMs }),
  });
}

/** Marks a take whose times count from the first bar that is played. */
export function markPieceTake(task: PieceTask, take: HeardTake, options: MarkOptions = {}): AnyMark {
  const way = wayOf(task);
  const { heard } = take;
  const refused = heard.verdict === 'refused' ? heard.reason : null;
  if (way === 'teacher') return kept(task, take, refused);
  if (way === 'chords') {
    const unheard: Fact = { code: 'not-heard', values: { reason: refused ?? '' } };
    if (refused)
      return {
        version: MARKER_VERSION,
        type: 'chords',
        mark: null,
        reason: refused,
        range: null,
        outcome: null,
        verdicts: [],
        readings: [unheard],
        advice: unheard,
      };
    return markChords(dueStrokes(task), answeredStrums(take.strums ?? []), options);
  }
  return lineMark(task, take, options, refused);
}

const NOTHING_LOST = { notes: 0, rhythm: 0, pulse: 0, continuity: 0 };

function lineMark(
  task: PieceTask,
  take: HeardTake,
  options: MarkOptions,
  refused: NoteMark['reason'],
): NoteMark {
  const due = dueNotes(task);
  const common = { version: MARKER_VERSION, range: null, transposedBy: 0 } as const;
  const silent = take.notes.length === 0 && refused === null;
  if (refused || silent || due.length === 0) {
    const advice: Advice = { code: 'nothing-played', values: {} };
    return {
      ...common,
      mark: silent && due.length > 0 ? 0 : null,
      reason: refused ?? (due.length === 0 ? 'no-target' : null),
      outcome: silent && due.length > 0 ? 'not-yet' : null,
      lost: silent ? { ...NOTHING_LOST, notes: 100 } : NOTHING_LOST,
      verdicts: silent
        ? due.map((_, i) => ({
            kind: 'missed',
            targetIndex: i,
            playedIndex: null,
            errorMs: null,
            errorSemitones: null,
            unclear: false,
          }))
        : [],
      timing: { biasMs: null, unevennessMs: null, driftPercent: null, tempoRatio: 1 },
      readings: [advice],
      advice,
    };
  }
  const marked = markedLine(task, take, options);
  const readings = told(task, marked);
  return {
    ...common,
    mark: marked.mark,
    reason: null,
    outcome: outcomeOf(marked.mark, options.thresholds ?? DEFAULT_THRESHOLDS),
    lost: marked.lost,
    // They count among the notes of the take's own bars.
    verdicts: marked.verdicts,
    timing: {
      biasMs: marked.biasMs,
      unevennessMs: marked.unevennessMs,
      driftPercent: null,
      tempoRatio: 1,
    },
    readings,
    advice: readings[0]!,
  };
}

/** Bars on the page as a list of numbers and ranges: "3, 12-14". */
export function barList(numbers: readonly number[]): string {
  const sorted = [...new Set(numbers)].sort((a, b) => a - b);
  const out: string[] = [];
  for (let i = 0; i < sorted.length;) {
    let k = i;
    while (k + 1 < sorted.length && sorted[k + 1] === sorted[k]! + 1) k++;
    out.push(k > i + 1 ? `${sorted[i]}–${sorted[k]}` : sorted.slice(i, k + 1).join(', '));
    i = k + 1;
  }
  return out.join(', ');
}

/** More bars than these are told by their number. */
const LISTED = 8;

/** What is said of the whole, the most telling first. */
function told(task: PieceTask, marked: MarkedPiece): Advice[] {
  const { from } = timesOf(task);
  const page = (bar: number): number => task.bars[Math.min(task.bars.length - 1, bar + from)]!.printed;
  const event = (one: PieceEvent): Advice | null => {
    switch (one.kind) {
      case 'wentBack':
        return { code: 'went-back', values: { bar: page(one.fromBar), toBar: page(one.bar) } };
      case 'jumpedOn':
        return { code: 'jumped-on', values: { bar: page(one.fromBar), toBar: page(one.bar) } };
      case 'stopped':
        return { code: 'memory-stop', values: { bar: page(one.fromBar), toBar: page(one.bar) } };
      case 'beside':
        return {
          code: one.beats > 0 ? 'behind-backing' : 'ahead-of-backing',
          values: { bar: page(one.bar), toBar: page(one.toBar), beats: Math.abs(one.beats) },
        };
      case 'ended':
        return { code: 'ended-at', values: { bar: page(one.bar) } };
    }
  };
  const wrong = marked.bars.flatMap((state, bar) => (state === 'wrong' ? [page(bar)] : []));
  const slips = marked.bars.flatMap((state, bar) => (state === 'slip' ? [page(bar)] : []));
  const list: Advice[] = marked.events.map(event).filter((one) => one !== null);
  if (wrong.length > 0)
    list.unshift(
      wrong.length > LISTED
        ? { code: 'bars-wrong-many', values: { count: wrong.length, of: marked.bars.length } }
        : { code: 'bars-wrong', values: { bars: barList(wrong), count: wrong.length } },
    );
  if (slips.length > 0 && slips.length <= LISTED)
    list.push({ code: 'bars-slip', values: { bars: barList(slips), count: slips.length } });
  const bias = marked.biasMs === null ? 0 : marked.biasMs - marked.leadMs;
  if (Math.abs(bias) > 40)
    list.push({
      code: bias > 0 ? 'steady-late' : 'steady-early',
      values: { ms: Math.round(Math.abs(bias)) },
    });
  if (list.length === 0) list.push({ code: marked.mark >= 99 ? 'all-right' : 'nearly', values: {} });
  return list;
}

function kept(task: PieceTask, take: HeardTake, refused: NoteMark['reason']): KeptForTeacher {
  const facts = refused ? [] : timingOfTrack(task, take);
  const advice: Fact = refused
    ? { code: 'not-heard', values: { reason: refused } }
    : (facts.at(-1) ?? { code: 'piece-kept', values: {} });
  return {
    version: MARKER_VERSION,
    type: 'teacher',
    mark: null,
    reason: refused ?? 'for-teacher',
    range: null,
    outcome: null,
    readings: [advice],
    advice,
    facts,
  };
}
