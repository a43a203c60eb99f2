import type { Key, Phrase, PracticeTest, TestKind } from '../../music/score.ts';
import type { GeneratorVersion } from './generators.ts';
import type { LevelParameters } from './levels/types.ts';
import { prepareLines } from './melody/lines.ts';
import { makeMelody } from './melody/melody.ts';
import type { Random } from './random/random.ts';
import { preparePairs } from './rhythm/asked.ts';
import { makeRhythm, rhythmKey } from './rhythm/rhythm.ts';

/** What the phrase of a test is drawn from. */
export interface Drawing {
  readonly level: LevelParameters;
  readonly at: LevelParameters['metres'][number];
  readonly strings: readonly number[];
  readonly walk: number;
  readonly tempoBpm: number;
  readonly asked: Key | null;
  readonly position: readonly [number, number] | null;
  readonly generator: GeneratorVersion;
}

interface Drawn {
  readonly key: Key;
  readonly phrase: Phrase;
  readonly question: PracticeTest['question'];
}

/** How the phrase of a kind of ear test is made. */
interface Maker {
  /** Stream of the random numbers: kinds of one seed have nothing in common. */
  readonly stream: number;
  make(drawing: Drawing, random: Random): Drawn;
  /** Builds ahead what phrases are drawn from, with pauses. */
  prepare(drawing: Omit<Drawing, 'position'>): Generator<void, void>;
}

export const MAKERS: Readonly<Record<TestKind, Maker>> = {
  melody: {
    stream: 1,
    make: (drawing, random) => ({ ...makeMelody(drawing, random), question: null }),
    prepare: prepareLines,
  },
  rhythm: {
    stream: 2,
    make: ({ level, at, strings, walk, generator }, random) => ({
      ...makeRhythm(level, at, strings, walk, random, generator),
      key: rhythmKey(strings),
    }),
    prepare: ({ level, at }) => preparePairs(level, at),
  },
};
