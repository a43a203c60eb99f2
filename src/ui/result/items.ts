import { isPitched } from '../../music/kinds.ts';
import type { HeardTake } from '../../music/notes.ts';
import type { NotesTask } from '../../music/task.ts';
import { ofNotes } from '../../tests-engine/index.ts';
import type { AnyMark, VerdictKind } from '../../tests-engine/index.ts';
import { secToTicks } from '../../music/units.ts';
import { pitchName } from '../names.ts';

/** One verdict as it is drawn and read. */
export interface Item {
  readonly kind: VerdictKind;
  readonly unclear: boolean;
  /** Index into the phrase, or null for an extra note. */
  readonly noteIndex: number | null;
  /** Where it stands on the axis of the music. */
  readonly atTicks: number;
  /** Played minus due, ms; null for missed and extra notes. */
  readonly errorMs: number | null;
  /** Name of the note that was played instead, or as an extra; null where the written one was played. */
  readonly played: string | null;
}

/**
 * The verdicts of a mark on notes with what drawing them needs; none of any other. In a rhythm test pitches are left out: they cost
 * nothing.
 */
export function itemsOf(test: NotesTask, take: HeardTake, mark: AnyMark): Item[] {
  return (ofNotes(mark)?.verdicts ?? []).map((verdict) => {
    const note = verdict.targetIndex === null ? null : test.phrase.notes[verdict.targetIndex]!;
    const heard = verdict.playedIndex === null ? null : take.notes[verdict.playedIndex]!;
    const named = verdict.kind === 'wrong' || (verdict.kind === 'extra' && isPitched(test.kind));
    return {
      kind: verdict.kind,
      unclear: verdict.unclear,
      noteIndex: verdict.targetIndex,
      atTicks: note ? note.startTicks : secToTicks(heard!.onsetSec, test.tempoBpm),
      errorMs: verdict.errorMs,
      played: named && heard ? pitchName(heard.midi, test.key) : null,
    };
  });
}
