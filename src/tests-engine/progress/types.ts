import type { Outcome } from '../../music/outcome.ts';
import type { QuestionForm } from '../../music/question.ts';
import type { PracticeTest, TestKind } from '../../music/score.ts';
import type { Shows, Task } from '../../music/task.ts';
import type { AnyMark } from '../marks/anyMark.ts';
import type { HeardTake } from '../../music/notes.ts';
import type { WrittenCount } from './written.ts';

/** What an attempt must say of itself to count in progress; overrides are already in `mark`. */
export interface AttemptFacts {
  readonly id: string;
  /** Device clock when the take ended, ms since 1970. */
  readonly atMs: number;
  /** Sorts attempts; strictly rising on a device even where its clock was set back. */
  readonly order: number;
  readonly test: Task;
  readonly manner: 'strict' | 'relaxed';
  readonly mark: AnyMark;
  /** Where it is known, waits in a scale count too. */
  readonly take?: HeardTake;
  /** How a rhythm was asked about, and whether the answer was right; null or missing where nothing was answered. */
  readonly question?: { readonly form: QuestionForm; readonly right: boolean } | null;
}

/**
 * One attempt, boiled down to what estimates and plots need; plain JSON.
 * `pitch` and `time` hold one number for each written note, in order: `(part set << 2) | said`, where bit
 * i of the set is part i of `PITCH_PARTS` or `TIME_PARTS`, and `said` is 0 went wrong, 1 was right, 2 no
 * evidence (not heard clearly, not markable, or not asked, like a given first note).
 */
export interface Practised {
  readonly id: string;
  readonly atMs: number;
  readonly order: number;
  readonly kind: Task['kind'];
  readonly level: number | null;
  readonly manner: 'strict' | 'relaxed';
  readonly mark: number | null;
  readonly outcome: Outcome | null;
  readonly biasMs: number | null;
  readonly unevennessMs: number | null;
  readonly pitch: readonly number[];
  readonly time: readonly number[];
  /** Of a page or a scale: how often each of its parts was asked, and came off. */
  readonly written?: readonly WrittenCount[];
  /** What a page was written on: reading notes and reading TAB are two things. */
  readonly shows?: Shows;
  /** Which entry of a list of scales it was (`scaleId`). */
  readonly scale?: string;
  /** As in the facts; missing where nothing was answered. */
  readonly question?: { readonly form: QuestionForm; readonly right: boolean };
  /** Of a test of chords: what it says of each. */
  readonly chords?: readonly ChordSaid[];
}

/** What an attempt says of one chord that was asked for. */
export interface ChordSaid {
  readonly symbol: string;
  /** Frets from the lowest string, "x 3 2 0 1 0"; null: any voicing. */
  readonly shape: string | null;
  /** null: no evidence. */
  readonly right: boolean | null;
  /** The chord before it, where the change was to be in time; null: none. */
  readonly from: string | null;
  readonly inTime: boolean | null;
}

/** An ear test's: the only kinds that estimates of hearing are made from. */
export type EarPractised = Practised & { readonly kind: TestKind };

export type Channel = 'pitch' | 'time';

/** What the choice of the next test goes by. */
export interface ChoiceRequest {
  readonly record: readonly Practised[];
  readonly manner: Practised['manner'];
  readonly kind: TestKind;
  /** Where to begin when there is no record of this kind, and the only level when `fixedLevel`. */
  readonly level: number;
  readonly fixedLevel?: boolean;
  /** The highest level there is, default 10. */
  readonly highestLevel?: number;
  /** Lowest mark for "there". */
  readonly there: number;
  /** Makes the test of a level and seed, for the player's instrument; the same arguments give the same test. */
  readonly make: (request: {
    readonly kind: TestKind;
    readonly level: number;
    readonly seed: number;
  }) => PracticeTest;
}
