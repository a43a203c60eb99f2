import { beforeAll, describe, expect, it } from 'vitest';
import { playChords, RATE } from '../../../audio-fixtures/chords/index.ts';
import { loadBanks, type Bank } from '../../../audio-fixtures/index.ts';
import { answerChords, hearStrums } from '../../../src/dsp/index.ts';

let banks: readonly Bank[];
beforeAll(async () => {
  banks = (await loadBanks('npm')).all;
});
const bankOf = (name: string): Bank => banks.find((bank) => bank.name === name)!;

/** Strings of one chord, each a stroke of its own, all left ringing to the end. */
function broken(notes: readonly number[], apartSec: number, seed: number) {
  const end = 0.4 + notes.length * apartSec + 1.6;
  const strums = notes.map((midi, i) => ({ notes: [midi], atSec: 0.4 + i * apartSec, untilSec: end - 0.1 }));
  return playChords(bankOf('nylon'), strums, { durationSec: end, seed });
}

const ever = (notes: readonly number[]) => ({ chord: { shapes: [notes] }, fromSec: 0, toSec: Infinity });
const OPEN = [
  [48, 52, 55, 60, 64],
  [45, 52, 57, 60, 64],
  [43, 47, 50, 55, 59, 67],
] as const;

describe('a chord broken slowly and left ringing', () => {
  it.each([0.2, 0.3, 0.45])('is one chord, begun at its first string, %f s a string', (apart) => {
    for (const [i, notes] of OPEN.entries()) {
      const strums = hearStrums(broken(notes, apart, 5 + i), RATE);
      expect(strums.length, 'each string is a stroke of its own').toBeGreaterThan(2);
      const [only, ...more] = answerChords(strums, [ever(notes)]);
      expect(more).toEqual([]);
      expect(only!.as.get(0)!.verdict).toBe('yes');
      expect(Math.abs(only!.firstSec - 0.4)).toBeLessThan(0.03);
      expect(Math.abs(only!.fullSec - (0.4 + (notes.length - 1) * apart))).toBeLessThan(0.06);
    }
  });

  it('is not right with a wrong note in it, and nothing is joined', () => {
    // The third of C a semitone high.
    const strums = hearStrums(broken([48, 53, 55, 60, 65], 0.3, 9), RATE);
    const answers = answerChords(strums, [ever([48, 52, 55, 60, 64])]);
    expect(answers.length).toBe(strums.length);
    for (const { as } of answers) expect(as.get(0)!.verdict).not.toBe('yes');
  });

  it('a wrong chord struck before the right one stays a stroke of its own', () => {
    const pcm = playChords(
      bankOf('nylon'),
      [
        { notes: [45, 52, 57, 60, 64], atSec: 0.4, untilSec: 1.05 },
        { notes: [48, 52, 55, 60, 64], atSec: 1.1, untilSec: 2.8 },
      ],
      { durationSec: 3, seed: 4 },
    );
    const answers = answerChords(hearStrums(pcm, RATE), [ever([48, 52, 55, 60, 64])]);
    expect(answers.map(({ as }) => as.get(0)!.verdict)).toEqual(['no', 'yes']);
  });
});

describe('two strings of a bass', () => {
  it.each([
    ['a fifth', [33, 40]],
    ['a tenth', [33, 49]],
    ['an octave', [36, 48]],
    ['a major third', [40, 44]],
  ] as const)('%s is heard as asked, and not a semitone off', (_, notes) => {
    const pcm = playChords(bankOf('bass'), [{ notes, atSec: 0.4, untilSec: 2.4 }], {
      durationSec: 2.6,
      seed: 3,
    });
    const strums = hearStrums(pcm, RATE);
    const asked = (shape: readonly number[]) =>
      answerChords(strums, [ever(shape)], { lowest: 28 })[0]!.as.get(0)!.verdict;
    expect(strums).toHaveLength(1);
    expect(asked(notes)).toBe('yes');
    if (notes[1]! % 12 !== notes[0]! % 12) expect(asked([notes[0]!, notes[1]! + 1])).toBe('no');
    expect(asked(notes.map((midi) => midi + 1))).toBe('no');
  });
});
