import { beforeAll, describe, expect, it } from 'vitest';
import { inRoom } from '../../../audio-fixtures/bleed/inRoom.ts';
import { playChords, RATE } from '../../../audio-fixtures/chords/index.ts';
import { loadBanks, type Bank } from '../../../audio-fixtures/index.ts';
import { makeRandom } from '../../../audio-fixtures/random.ts';
import { answerChords, hearChordTake, hearStrums } from '../../../src/dsp/index.ts';

const C = [48, 52, 55, 60, 64];
const asked = [{ chord: { classes: [0, 4, 7] }, fromSec: 0, toSec: 12 }];

describe('strokes that come as the player likes', () => {
  let banks: readonly Bank[];
  beforeAll(async () => {
    banks = (await loadBanks('npm')).all;
  });
  const bankOf = (name: string): Bank => banks.find((bank) => bank.name === name)!;

  it('are each one for itself where the same chord is struck again within a second', () => {
    const at = [0.4, 1.1, 1.8, 2.5];
    const strums = at.map((atSec) => ({ notes: C, atSec, untilSec: atSec + 0.65 }));
    const heard = hearStrums(playChords(bankOf('nylon'), strums, { durationSec: 3.6, seed: 3 }), RATE);
    const answers = answerChords(heard, asked, { free: true });
    expect(answers.map(({ as }) => as.get(0)!.verdict)).toEqual(['yes', 'yes', 'yes', 'yes']);
    answers.forEach(({ firstSec }, i) => expect(Math.abs(firstSec - at[i]!)).toBeLessThan(0.03));
    // Asked for once, what is struck again is more of the same chord.
    expect(answerChords(heard, asked)).toHaveLength(1);
  });

  it('are none where only the backing plays', () => {
    const durationSec = 11;
    const bass = Array.from({ length: 14 }, (_, i) => ({
      notes: [36 + (i % 3) * 2],
      atSec: 0.5 + 0.7 * i,
      untilSec: 1.1 + 0.7 * i,
    }));
    const sent = playChords(bankOf('bass'), bass, { durationSec, seed: 5 });
    const FIRST_SEC = 6.1;
    const strums = [0, 1.4, 2.8].map((later) => ({
      notes: C,
      atSec: FIRST_SEC + later,
      untilSec: FIRST_SEC + later + 1.2,
    }));
    const guitar = playChords(bankOf('nylon'), strums, { durationSec, seed: 6 });
    const recording = inRoom(guitar, sent, {
      ...{ sampleRate: RATE, bleedDb: 0, from: FIRST_SEC, to: durationSec, random: makeRandom(8) },
    });
    const hear = (free: boolean) =>
      hearChordTake(recording, RATE, { asked, fromSec: 2, reference: sent, driven: false, free });
    const early = (free: boolean) =>
      hear(free).strums.filter(({ firstSec }) => firstSec < FIRST_SEC - 0.05).length;
    expect(hear(true).heard.verdict).toBe('ok');
    expect(early(true)).toBe(0);
    expect(hear(true).strums).toHaveLength(3);
    // What is left of the bass looks like strokes otherwise.
    expect(early(false)).toBeGreaterThan(0);
  });
});
