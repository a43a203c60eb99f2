import { describe, expect, it } from 'vitest';
import {
  HIGHEST_CAPO,
  TUNINGS,
  capoOf,
  makeTest,
  tuningNamed,
  withCapo,
} from '../../../src/tests-engine/index.ts';
import { practiceTest } from '../../../src/music/schema/test.ts';
import * as v from 'valibot';

describe('a tuning by its name', () => {
  it('with a capo sounds so many semitones higher, and its name comes back', () => {
    const id = withCapo('guitar-drop-d', 3);
    expect(tuningNamed(id, 'guitar').strings).toEqual([41, 48, 53, 58, 62, 67]);
    expect([capoOf(id), withCapo(id, 0), withCapo(id, 5)]).toEqual([3, 'guitar-drop-d', 'guitar-drop-d+5']);
  });
  it('that is none, or another instrument’s, is the usual one', () => {
    for (const id of ['', 'lute', 'bass', 'guitar+0', 'guitar+12'])
      expect(tuningNamed(id, 'guitar').strings, id).toEqual(tuningNamed('guitar', 'guitar').strings);
  });
  it.each(TUNINGS.map(({ id }) => id))('%s gives tests of every level, with the highest capo too', (id) => {
    const { instrument } = TUNINGS.find((one) => one.id === id)!;
    const capos = instrument === 'guitar' ? [0, HIGHEST_CAPO] : [0];
    for (const capo of capos)
      for (let level = 1; level <= 10; level++)
        for (const kind of ['melody', 'rhythm'] as const) {
          const { strings: tuning } = tuningNamed(withCapo(id, capo), instrument);
          const test = makeTest({ kind, level, seed: 31 * level + capo, instrument, tuning });
          expect(v.safeParse(practiceTest, test).issues, `${kind} ${level} capo ${capo}`).toBeUndefined();
          for (const { string, fret, midi } of test.phrase.notes)
            expect(tuning[tuning.length - string]! + fret).toBe(midi);
          if (kind === 'rhythm') expect(test.phrase.notes[0]!.midi).toBe(Math.min(...tuning));
        }
  });
});
