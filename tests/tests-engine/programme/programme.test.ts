import { describe, expect, it } from 'vitest';
import type { PracticeTest } from '../../../src/music/score.ts';
import {
  coming,
  LEVELS,
  levelTest,
  likeIt,
  makeTest,
  TUNINGS,
  type Programme,
} from '../../../src/tests-engine/index.ts';
import { plain } from '../procedure/some-tests.ts';

function counter(): () => number {
  let seed = 100;
  return () => seed++;
}
/** The tasks that come one after another; stops where something else decides. */
function chain(programme: Programme, count: number): PracticeTest[] {
  const tasks: PracticeTest[] = [];
  const seed = counter();
  for (let k = 0; k < count; k++) {
    // As it would be after a night on the disk.
    const next = coming(JSON.parse(JSON.stringify(programme)), tasks.at(-1) ?? null, seed);
    if (next.do !== 'begin') break;
    tasks.push(next.task as PracticeTest);
    ({ programme } = next);
  }
  return tasks;
}
const guitar = TUNINGS.find(({ id }) => id === 'guitar')!.strings;

describe('what comes after a task', () => {
  it('of a level of the teacher’s own is another of that very level, as long as one goes on', () => {
    const level = { ...LEVELS[3]!, name: 'Steps in three', tempo: [71, 71, 1] as const };
    const own = { ...level, metres: level.metres.filter(({ metre }) => metre === '3/4') };
    const { strings: tuning } = TUNINGS.find(({ id }) => id === 'bass')!;
    const tests = chain({ from: 'level', level: own, kind: 'melody', instrument: 'bass', tuning }, 6);
    expect(tests).toHaveLength(6);
    for (const test of tests) {
      expect(test).toMatchObject({ kind: 'melody', instrument: 'bass', level: null, tempoBpm: 71 });
      expect(test.phrase.metre).toMatchObject({ beats: 3, beatUnit: 4 });
    }
    expect(new Set(tests.map((test) => JSON.stringify(test.phrase))).size).toBe(6);
    expect(tests[0]).toEqual(levelTest(own, { kind: 'melody', instrument: 'bass', tuning, seed: 100 }));
  });
  it('opened from a link is another of its kind, level, instrument and tuning', () => {
    const tuning = TUNINGS.find((x) => x.instrument === 'bass' && x.id !== 'bass')!.strings;
    const linked = makeTest({ kind: 'rhythm', level: 7, instrument: 'bass', tuning, seed: 5 });
    const tests = chain(likeIt(linked), 4);
    expect(tests).toHaveLength(4);
    for (const test of tests)
      expect(test).toMatchObject({ kind: 'rhythm', level: 7, instrument: 'bass', tuning });
    expect(new Set(tests.map((test) => JSON.stringify(test.phrase))).size).toBe(4);
  });
  it('is the start page’s to decide after a phrase without a level, and where a tuning cannot hold the level', () => {
    expect(coming(likeIt({ ...plain, level: null }), plain, counter())).toEqual({ do: 'settings' });
    const strange = { ...plain, tuning: [12, 12, 12, 12] as unknown as PracticeTest['tuning'] };
    expect(coming(likeIt(strange), strange, counter())).toEqual({ do: 'settings' });
    expect(coming({ from: 'start' }, plain, counter())).toEqual({ do: 'settings' });
  });
  it('of a list is the next, and after the last the first', () => {
    const tasks = [1, 2, 3].map((seed) =>
      makeTest({ kind: 'melody', level: 1, instrument: 'guitar', tuning: guitar, seed }),
    );
    expect(chain({ from: 'list', tasks, at: 1 }, 4)).toEqual([tasks[2], tasks[0], tasks[1], tasks[2]]);
    expect(coming({ from: 'list', tasks: [], at: 0 }, null, counter())).toEqual({ do: 'settings' });
  });
  it('in practice the record chooses, the kinds by turns; homework goes back to its page', () => {
    expect(coming({ from: 'practice' }, plain, counter())).toEqual({ do: 'choose', kind: 'rhythm' });
    expect(coming({ from: 'practice' }, { ...plain, kind: 'rhythm' }, counter())).toEqual({
      do: 'choose',
      kind: 'melody',
    });
    expect(
      coming({ from: 'homework', homeworkId: 'h', item: 2, thresholds: null }, plain, counter()),
    ).toEqual({
      do: 'page',
      page: 'homework',
    });
  });
});
