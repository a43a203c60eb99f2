import { isHeard } from '../../music/kinds.ts';
import type { Instrument, TestKind } from '../../music/score.ts';
import type { QuestionSet } from '../../music/question.ts';
import type { Thresholds } from '../../music/outcome.ts';
import {
  levelTest,
  makeChords,
  makeTest,
  type ChordRequest,
  type LevelParameters,
  type ScaleList,
} from '../material/index.ts';
import {
  earTest,
  makeImprovising,
  type ImprovisingRequest,
  type ReadingRequest,
  type Task,
} from '../tasks/index.ts';
import { drillTest, type DrillPlayer } from './drill.ts';
import type { Drill } from './drillSchema.ts';

/** Whom and what a made test is for. */
interface Asked {
  readonly kind: TestKind;
  readonly instrument: Instrument;
  readonly tuning: readonly number[];
}

/**
 * Where a task came from, and so what comes after it. Plain data: it can be kept, and taken up again on the next day.
 */
export type Programme =
  /** What the start page's settings ask for. */
  | { readonly from: 'start' }
  /** The adaptive choice, the kinds by turns. */
  | { readonly from: 'practice' }
  /** Others like one that was opened from a link or a file. */
  | ({ readonly from: 'like'; readonly level: number } & Asked)
  /** Others of a level of the teacher's own. */
  | ({ readonly from: 'level'; readonly level: LevelParameters } & Asked)
  /** Another page of the reading ladder. */
  | ({ readonly from: 'reading' } & Omit<ReadingRequest, 'seed'>)
  /** Another list of chords of the same kinds; those that go wrong come back. */
  | ({ readonly from: 'chords' } & Omit<ChordRequest, 'seed' | 'weak'>)
  /** Scales of a list, asked as an examiner would. */
  | {
      readonly from: 'scales';
      readonly list: ScaleList;
      /** 1…10 where the list is one of ours. */
      readonly level: number | null;
      readonly tuning: readonly number[];
      readonly click: boolean;
    }
  /** Another chart to improvise over. */
  | ({ readonly from: 'improvising' } & Omit<ImprovisingRequest, 'seed'>)
  /** A piece of the player's own: its page comes after it. */
  | { readonly from: 'piece' }
  /** What a station of a sitting asks for: the sitting's page comes after it, and says what is next. */
  | { readonly from: 'sitting'; readonly sittingId: string }
  /** Another of the same drill. */
  | ({ readonly from: 'drill'; readonly drill: Drill } & DrillPlayer)
  /** One after another, and from the last to the first again. */
  | { readonly from: 'list'; readonly tasks: readonly Task[]; readonly at: number }
  /** An item of a homework; after it the homework's page. Its outcomes are the teacher's, where they set any. */
  | {
      readonly from: 'homework';
      readonly homeworkId: string;
      readonly item: number;
      readonly thresholds: Thresholds | null;
      /** How its rhythms are asked about; missing: as the player has it. */
      readonly question?: QuestionSet;
    };

/** What a homework says of the question after its rhythms; null where the player's own settings hold. */
export const setQuestion = (programme: Programme): QuestionSet | null =>
  programme.from === 'homework' ? (programme.question ?? null) : null;

/** The kinds of ear test by turns. */
const OTHER: Readonly<Record<TestKind, TestKind>> = { melody: 'rhythm', rhythm: 'melody' };

/** What comes after a task. */
export type Coming =
  | { readonly do: 'begin'; readonly task: Task; readonly programme: Programme }
  /** The page's settings decide. */
  | { readonly do: 'settings' }
  /** The record decides. */
  | { readonly do: 'choose'; readonly kind: TestKind }
  /** The record decides which scale is asked, or which page is turned up. */
  | { readonly do: 'ask' }
  | { readonly do: 'page'; readonly page: 'homework' | 'piece' | 'sitting' };

/**
 * What comes next; `seed` gives a fresh 32-bit seed where something new is made, `weak` are the chords that go wrong. Where a level cannot do what came
 * with a test (a tuning, a key), the start page's settings decide.
 */
export function coming(
  programme: Programme,
  last: Task | null,
  seed: () => number,
  weak: readonly string[] = [],
): Coming {
  switch (programme.from) {
    case 'start':
      return { do: 'settings' };
    case 'practice':
      return { do: 'choose', kind: isHeard(last?.kind) ? OTHER[last.kind] : 'melody' };
    case 'homework':
      return { do: 'page', page: 'homework' };
    case 'piece':
      return { do: 'page', page: 'piece' };
    case 'sitting':
      return { do: 'page', page: 'sitting' };
    case 'list': {
      const { tasks } = programme;
      const at = (programme.at + 1) % Math.max(1, tasks.length);
      const task = tasks[at];
      return task ? { do: 'begin', task, programme: { ...programme, at } } : { do: 'settings' };
    }
    case 'reading':
    case 'scales':
      return { do: 'ask' };
    case 'chords': {
      const { from, ...request } = programme;
      return {
        do: 'begin',
        task: makeChords({ ...request, weak, seed: seed() }),
        programme: { from, ...request },
      };
    }
    case 'improvising': {
      const { from, ...request } = programme;
      return {
        do: 'begin',
        task: makeImprovising({ ...request, seed: seed() }),
        programme: { from, ...request },
      };
    }
    case 'drill':
      return anotherDrill(programme, seed);
    case 'like':
    case 'level':
      return another(programme, seed);
  }
}

function another(programme: Extract<Programme, { from: 'like' | 'level' }>, seed: () => number): Coming {
  const { kind, instrument, tuning } = programme;
  const options = { kind, instrument, tuning, seed: seed() };
  try {
    const task =
      programme.from === 'level'
        ? levelTest(programme.level, options)
        : makeTest({ ...options, level: programme.level });
    return { do: 'begin', task, programme };
  } catch (error) {
    if (error instanceof RangeError) return { do: 'settings' };
    throw error;
  }
}

/**
 * What comes after a test that was opened from a link or a file: others of its kind, level and instrument, for whoever
 * opened it practises that level now, whatever the start page says. A phrase of a teacher's own has no others like it.
 */
export function likeIt(task: Task): Programme {
  const ear = earTest(task);
  if (!ear || ear.level === null) return { from: 'start' };
  const { kind, level, instrument, tuning } = ear;
  return { from: 'like', kind, level, instrument, tuning };
}

function anotherDrill(programme: Extract<Programme, { from: 'drill' }>, seed: () => number): Coming {
  try {
    return { do: 'begin', task: drillTest(programme.drill, programme, seed()), programme };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return { do: 'settings' };
  }
}
