import { describe, expect, it } from 'vitest';
import { toBase64Url, wholeCode } from '../../src/exchange/index.ts';
import type { PracticeTest } from '../../src/music/score.ts';
import { pack } from '../../src/store/backup/container.ts';
import { homeworkFragment, readHomework } from '../../src/store/homework/homework.ts';
import { makeTest } from '../../src/tests-engine/index.ts';
import { ID } from './support/backup.ts';

const thresholds = { there: 85, close: 65 };
const good = makeTest({ kind: 'melody', level: 3, seed: 7, instrument: 'guitar' });

/** The link of a desk that checks nothing: its list holds a good test and the changed one. */
const byList = (test: PracticeTest) =>
  homeworkFragment(
    { id: ID(7), studentId: ID(0), atMs: 0, manner: 'strict', tests: [good, test] } as never,
    thresholds,
  );
/** The same as the app of before packed it: a code a test. */
const asBefore = async (test: PracticeTest) =>
  toBase64Url(
    await pack('homework', {
      version: 2,
      homeworkId: ID(7),
      manner: 'strict',
      thresholds,
      codes: [good, test].map((one) => wholeCode(one)),
    }),
  );

/** What one would begin and get neither sound nor a message. */
const UNPLAYABLE: readonly [string, (test: Record<string, any>) => void, string][] = [
  ['heard never', (t) => (t['procedure'].hearings = 0), 'invalid'],
  ['heard a hundred times', (t) => (t['procedure'].hearings = 100), 'invalid'],
  [
    'of more than ten minutes of music',
    (t) => {
      t['tempoBpm'] = 30;
      t['phrase'].bars = 16;
      t['procedure'].hearings = 5;
    },
    'invalid',
  ],
  ['in 1/16', (t) => (t['phrase'].metre = { beats: 1, beatUnit: 16, grouping: [1] }), 'invalid'],
  ['in a style of a later version', (t) => (t['style'] = 'bolero'), 'newer-version'],
  ['in a scale of a later version', (t) => (t['key'].scale = 'upside down'), 'newer-version'],
];

describe.each([
  ['a list', byList],
  ['the version of before', asBefore],
])('homework by link, as %s', (_, link) => {
  it('opens with tests that can be played', async () => {
    expect((await readHomework(await link(good))).tests).toEqual([good, good]);
  });
  it.each(UNPLAYABLE)('is refused with a test %s', async (_, change, code) => {
    const test = JSON.parse(JSON.stringify(good)) as PracticeTest;
    change(test as never);
    await expect(readHomework(await link(test))).rejects.toMatchObject({ code });
  });
});
