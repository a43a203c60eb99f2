import { beforeAll, describe, expect, it } from 'vitest';
import { makeStrum, type Fault } from '../../../audio-fixtures/chords/index.ts';
import { loadBanks, type Bank } from '../../../audio-fixtures/index.ts';
import { resample } from '../../../audio-fixtures/resample.ts';
import { hearStrums, judgeStrum } from '../../../src/dsp/index.ts';

/** A guitar tuned away from concert pitch as a whole: the recording of one in tune, read faster or slower. */
describe('a whole guitar tuned between two semitones', () => {
  let nylon: Bank;
  beforeAll(async () => {
    nylon = (await loadBanks('npm')).all.find(({ name }) => name === 'nylon')!;
  });

  function judged(kind: 'open' | 'barre', fault: Fault, seed: number, cents: number) {
    const made = makeStrum({ kind, fault, effect: 'clean', bank: nylon, seed })!;
    const speed = 2 ** (cents / 1200);
    const strums = hearStrums(resample(made.signal, speed), 44_100);
    const near = strums.find(({ firstSec }) => Math.abs(firstSec - made.firstSec / speed) < 0.05)!;
    return judgeStrum(near, { shapes: [made.asked] });
  }

  it.each([-50, -46, -41, 41, 46, 50])('is taken out at %i cents: what is right is told so', (cents) => {
    for (const kind of ['open', 'barre'] as const)
      for (const seed of [301, 302, 303]) {
        const { verdict, tuningCents } = judged(kind, 'right', seed, cents);
        expect(verdict, `${kind} ${seed}`).toBe('yes');
        // Strings scatter by 3 cents, stiffness raises what the peaks say.
        expect(Math.abs(tuningCents - cents)).toBeLessThan(9);
      }
  });

  it.each([-50, -46, 46, 50])('hides no fault at %i cents', (cents) => {
    for (const fault of ['third to fourth', 'no third', 'major for minor'] as const)
      for (const seed of [311, 312])
        expect(judged('barre', fault, seed, cents).verdict, `${fault} ${seed}`).toBe('no');
  });
});
