import { describe, expect, it } from 'vitest';
import { loadNpmBank } from '../../../audio-fixtures/banks/npm.ts';
import { playChords, RATE } from '../../../audio-fixtures/chords/index.ts';
import { hearChordTake } from '../../../src/dsp/chords/index.ts';
import { makeChords, markChordTake, askedOfTest, expectedOfTest } from '../../../src/tests-engine/index.ts';

const START = 1;
const test = makeChords({
  ...{ seed: 4, families: ['open'], how: 'progression', count: 2, voicing: 'shape', tempoBpm: 100 },
} as const);
const BAR_SEC = 2.4;
/** The last of a chord's ringing before the next is due. */
const HOLE_AT = START + BAR_SEC - 0.3;

/** The first chord struck, the second not; so many seconds of what was recorded lost just before the second is due. */
async function kinds(lostSec: number): Promise<string[]> {
  const notes = test.chords[0]!.frets!.flatMap((fret, s) => (fret === null ? [] : [test.tuning[s]! + fret]));
  const bank = await loadNpmBank('nylon');
  const signal = playChords(bank, [{ notes, atSec: START, untilSec: START + BAR_SEC }], {
    durationSec: START + 2 * BAR_SEC,
    seed: 3,
  });
  signal.fill(0, Math.round(HOLE_AT * RATE), Math.round((HOLE_AT + lostSec) * RATE));
  const heard = hearChordTake(signal, RATE, {
    asked: askedOfTest(test).map((one) => ({
      ...one,
      fromSec: START + one.fromSec,
      toSec: START + one.toSec,
    })),
    expectedSec: expectedOfTest(test).map((at) => START + at),
    ...{ fromSec: 0, reference: null, driven: false },
  });
  const strums = heard.strums.map((one) => ({ ...one, firstSec: (one.firstSec - START) as never }));
  const { verdicts } = markChordTake(test, { ...heard, strums });
  return verdicts.filter(({ askedIndex }) => askedIndex !== null).map(({ kind }) => kind);
}

/** A busy machine loses blocks of a recording: the string that rings on after them rises like a stroke. */
describe('a recording with blocks lost while a chord rings, before one that is not struck', () => {
  it('bridges what is short: the chord was not struck', async () => {
    expect(await kinds(0)).toEqual(['yes', 'missed']);
    expect(await kinds(0.01)).toEqual(['yes', 'missed']);
  });
  it('never tells of a wrong chord: where more is lost a stroke may have been, and it can’t be told', async () => {
    for (const lost of [0.03, 0.06]) {
      const [first, second] = await kinds(lost);
      expect(first).toBe('yes');
      expect(['missed', 'unsure']).toContain(second);
    }
  });
});
