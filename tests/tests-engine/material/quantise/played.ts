import type { HeardNote } from '../../../../src/music/notes.ts';
import type { PracticeTest } from '../../../../src/music/score.ts';
import { makeRandom } from '../../../../audio-fixtures/random.ts';
import { performedSec } from '../../../../src/tests-engine/index.ts';
import { cents, db, sec } from '../../../../src/music/units.ts';

export interface Humanity {
  readonly jitterSec: number;
  /** Spread of the ends of notes; they sound for 0.96 of their written length, as the cue sheets have it. */
  readonly endJitterSec: number;
  readonly lateSec?: number;
}

/** The notes of a test as heard from a player. */
export function played(test: PracticeTest, seed: number, human: Humanity): HeardNote[] {
  const random = makeRandom(seed);
  const draw = (spread: number): number => spread * random.normal();
  return test.phrase.notes.map((note) => {
    const start = performedSec(note.startTicks, test);
    const end = performedSec(note.startTicks + note.durationTicks, test);
    const onset = start + (human.lateSec ?? 0) + draw(human.jitterSec);
    return {
      onsetSec: sec(onset),
      offsetSec: sec(
        Math.max(
          onset + 0.03,
          start + (human.lateSec ?? 0) + (end - start) * 0.96 + draw(human.endJitterSec),
        ),
      ),
      midi: note.midi,
      cents: cents(0),
      levelDb: db(-20),
      confidence: 0.95,
    };
  });
}
