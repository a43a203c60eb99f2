import type { TestKind } from './score.ts';
import type { Task } from './task.ts';

/** What the rooms that do not mark must know of a kind of task. */
interface KindFacts {
  /** Something is heard first, and played back. */
  readonly heard: boolean;
  /** Pitches are asked for and judged; else times alone, on any note. */
  readonly pitched: boolean;
  /** After the take it is asked which of two was played. */
  readonly asks: boolean;
}

/** Every kind there is: the compiler asks for the line of a new one. No file outside the handlers asks for a kind by name. */
export const KINDS: Readonly<Record<Task['kind'], KindFacts>> = {
  melody: { heard: true, pitched: true, asks: false },
  rhythm: { heard: true, pitched: false, asks: true },
  reading: { heard: false, pitched: true, asks: false },
  scale: { heard: false, pitched: true, asks: false },
  improvising: { heard: false, pitched: true, asks: false },
  piece: { heard: false, pitched: true, asks: false },
  chords: { heard: false, pitched: true, asks: false },
};

export const isPitched = (kind: Task['kind']): boolean => KINDS[kind].pitched;

/** Whether a word is a kind of ear test. */
export const isHeard = (kind: string | undefined): kind is TestKind =>
  kind !== undefined && Object.hasOwn(KINDS, kind) && KINDS[kind as Task['kind']].heard;
