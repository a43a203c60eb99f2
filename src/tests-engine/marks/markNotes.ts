import type { HeardTake } from '../../music/notes.ts';
import type { Phrase } from '../../music/score.ts';
import { performedSec, type Pace } from '../../music/time.ts';
import { TICKS_PER_QUARTER } from '../../music/units.ts';
import { markTake } from './mark.ts';
import type { Thresholds } from '../../music/outcome.ts';
import type { Mark, MarkRequest, TargetNote, Transposition } from './types.ts';

export interface MarkNotesOptions {
  /** false: rhythm alone counts, whatever was played. */
  readonly pitch: boolean;
  readonly transposition?: Transposition;
  /** Half-width of what is not known of the latency, ms; Infinity where it was not measured. */
  readonly latencyUncertaintyMs?: number;
  readonly thresholds?: Thresholds;
}

/** Written notes, with all that a mark needs to know of them. */
export interface WrittenTarget extends Pace {
  readonly phrase: Phrase;
  /** 1…10, or null for what belongs to no level. */
  readonly level: number | null;
}

/** The written notes of a phrase as due times from beat 1 of bar 1. */
export function targetOf(phrase: Phrase, pace: Pace): TargetNote[] {
  return phrase.notes.map((note) => {
    const onsetSec = performedSec(note.startTicks, pace);
    const offBeat = note.startTicks % TICKS_PER_QUARTER !== 0;
    return {
      onsetSec,
      durationSec: performedSec(note.startTicks + note.durationTicks, pace) - onsetSec,
      midi: note.midi,
      ...(pace.swing !== 0.5 && offBeat ? { swungOffBeat: true } : {}),
    };
  });
}

/** What `markTake` is asked where a take of written notes is marked: see {@link markNotes}. */
export function requestOf(written: WrittenTarget, take: HeardTake, options: MarkNotesOptions): MarkRequest {
  const { metre } = written.phrase;
  const target = targetOf(written.phrase, written);
  return {
    target: options.pitch ? target : target.map(({ midi: _, ...rest }) => rest),
    played: take.notes.map(({ onsetSec, midi, confidence }) => ({ onsetSec, midi, confidence })),
    clock: 'backing',
    transposition: options.transposition ?? 'none',
    beatSec: (60 / written.tempoBpm) * (4 / metre.beatUnit),
    beatsPerBar: metre.beats,
    ...(written.level === null ? {} : { level: written.level }),
    ...(options.latencyUncertaintyMs === undefined
      ? {}
      : { latencyUncertaintyMs: options.latencyUncertaintyMs }),
    ...(options.thresholds === undefined ? {} : { thresholds: options.thresholds }),
  };
}

/**
 * Marks a heard take of written notes on the backing's clock; the take's times count from beat 1 of bar 1. A
 * take that was refused has no mark, and says why.
 */
export function markNotes(written: WrittenTarget, take: HeardTake, options: MarkNotesOptions): Mark {
  const mark = markTake(requestOf(written, take, options));
  const refused = take.heard.verdict === 'refused' ? take.heard.reason : null;
  return refused === null ? mark : { ...mark, mark: null, reason: refused, range: null, outcome: null };
}

/** A mark of rhythm with a remark where other pitches than the written were played; they cost nothing. */
export function withOtherPitches(written: WrittenTarget, take: HeardTake, mark: Mark): Mark {
  if (mark.mark === null && mark.reason === take.heard.reason) return mark;
  const { notes } = written.phrase;
  const other = mark.verdicts.filter(
    ({ targetIndex, playedIndex }) =>
      targetIndex !== null &&
      playedIndex !== null &&
      take.notes[playedIndex]!.midi !== notes[targetIndex]!.midi,
  ).length;
  return other === 0
    ? mark
    : { ...mark, readings: [...mark.readings, { code: 'other-pitch', values: { count: other } }] };
}
