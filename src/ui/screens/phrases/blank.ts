import type { PracticeTest } from '../../../music/score.ts';
import { makeTest, writeLine } from '../../../tests-engine/index.ts';
import { sec } from '../../../music/units.ts';
import { tuningOf } from '../../settings/tuningOf.ts';
import type { Settings } from '../../settings/types.ts';

/** Two bars of 4/4 in A minor, with one note to begin from: what a phrase is written into. */
export function blankPhrase(settings: Pick<Settings, 'instrument' | 'tuningId'>): PracticeTest {
  const { instrument } = settings;
  const tuning = tuningOf(settings).strings;
  const test = makeTest({ kind: 'melody', level: 1, seed: 1, instrument, tuning });
  const key = { tonic: 'A', scale: 'minor' };
  const { metre } = test.phrase;
  // The A that lies lowest on the neck.
  const midi = Math.min(...tuning) + ((((9 - Math.min(...tuning)) % 12) + 12) % 12);
  const phrase = writeLine([{ startTicks: 0, durationTicks: 480, midi }], { metre, bars: 2, key, tuning });
  const { version, kind, tempoBpm, swing, style } = test;
  return {
    ...{
      version,
      kind,
      instrument,
      tuning: test.tuning,
      level: null,
      seed: null,
      tempoBpm,
      key,
      swing,
      phrase,
    },
    ...{ style, question: null, procedure: { ...test.procedure, practiceSec: sec(20) } },
  };
}
