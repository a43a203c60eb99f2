import type { ChordTest } from '../../../music/chords/index.ts';
import { bpm } from '../../../music/units.ts';
import { countedSpan } from '../../take/index.ts';
import type { ChordsAsked, TaskHandler } from '../types.ts';
import { askedOfTest, expectedOfTest, markChordTake } from './mark.ts';
import { chordTakeSheet, chordTargetSheet } from './sheets.ts';
import { chordsAtSec, isTimed, slotSec, takeSec } from './slots.ts';

/** Chords from memory: named one by one, or a progression from a chart in time. */
export const chords: TaskHandler<ChordTest> = {
  kind: 'chords',
  plan(test, { practiceSec }) {
    return {
      steps: [
        {
          does: 'prepare',
          named: isTimed(test) ? 'chart' : 'recall',
          lengthSec: practiceSec ?? test.prepareSec,
          sheet: null,
          records: false,
        },
        { does: 'play', sheet: 'performance', passes: 1, longestSec: 0, records: true },
      ],
      // Taken whole: a half of a list of chords is a shorter list.
      bars: 1,
      hearings: 1,
    };
  },
  sounded(test, { tempoFactor = 1 }) {
    if (!(tempoFactor >= 0.25 && tempoFactor <= 1.5))
      throw new RangeError(`a tempo factor lies between 0.25 and 1.5, got ${tempoFactor}`);
    return tempoFactor === 1 ? test : { ...test, tempoBpm: bpm(test.tempoBpm * tempoFactor) };
  },
  sheet(test, name, options) {
    if (name !== 'performance') throw new RangeError(`a test of chords has no ${name}`);
    return chordTakeSheet(chords.sounded(test, options), options.count ?? 'spoken');
  },
  target: chordTargetSheet,
  together: [],
  span: (test) => countedSpan(60 / test.tempoBpm, takeSec(test)),
  chords: (test): ChordsAsked => ({
    asked: isTimed(test) ? askedOfTest(test) : inSlots(test),
    expectedSec: expectedOfTest(test),
    driven: test.driven ? true : null,
  }),
  mark: (test, take, options) => markChordTake(test, take, options),
};

/** A chord that was named may be struck from then on until the next is named. */
function inSlots(test: ChordTest): ReturnType<typeof askedOfTest> {
  const at = chordsAtSec(test);
  return askedOfTest(test).map(({ chord }, i) => ({
    chord,
    fromSec: at[i]!,
    toSec: at[i]! + slotSec(test),
  }));
}
