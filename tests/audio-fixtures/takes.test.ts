import { PitchDetector } from 'pitchy';
import { beforeAll, describe, expect, it } from 'vitest';
import {
  absentFamilies,
  attackIndex,
  FAMILIES,
  isNegative,
  loadBanks,
  loadNoises,
  makeTake,
  recordedNoise,
  takeSet,
} from '../../audio-fixtures/index.ts';
import { speakLate } from '../../audio-fixtures/effects/tone.ts';
import { perform } from '../../audio-fixtures/player.ts';
import { makeRandom } from '../../audio-fixtures/random.ts';
import type { Bank, FamilyName } from '../../audio-fixtures/index.ts';

let banks: readonly Bank[];
beforeAll(async () => {
  banks = (await loadBanks('npm')).all;
  await loadNoises();
});

const bankNamed = (name: string): Bank => banks.find((bank) => bank.name === name)!;

/** Four notes far enough apart that each stands alone. */
function apart(bank: Bank, sampleRate: number, tuningCents = 0): ReturnType<typeof perform> {
  const lowest = bank.instrument === 'bass' ? 28 : 40;
  const plan = [0, 5, 12, 19].map((step, i) => ({
    onsetSec: 0.5 + 1.2345 * i,
    durationSec: 0.8,
    midi: lowest + step,
    levelDb: [0, -6, -13, 3][i]!,
  }));
  return perform(plan, bank, { sampleRate, durationSec: 6, tuningCents, random: makeRandom(5) });
}

describe('a performance', () => {
  it('has its attacks exactly where the truth says, in every bank at 44.1 and 48 kHz', () => {
    for (const bank of banks)
      for (const sampleRate of [44_100, 48_000]) {
        const { signal, truth } = apart(bank, sampleRate);
        for (const note of truth) {
          const from = Math.round((note.onsetSec - 0.2) * sampleRate);
          const alone = signal.slice(from, from + Math.round(0.6 * sampleRate));
          expect(
            Math.abs(attackIndex(alone, sampleRate) + from - note.onsetSec * sampleRate),
          ).toBeLessThanOrEqual(1);
        }
      }
  });
  it('sounds at the pitch the truth says, plus the tuning, within 8 cents', () => {
    for (const bank of banks)
      for (const tuning of [0, -37]) {
        const { signal, truth } = apart(bank, 44_100, tuning);
        const size = 8192;
        const detector = PitchDetector.forFloat32Array(size);
        for (const note of truth) {
          const at = Math.round((note.onsetSec + 0.15) * 44_100);
          const [hz] = detector.findPitch(signal.subarray(at, at + size), 44_100);
          const heard = 69 + 12 * Math.log2(hz / 440);
          expect(Math.abs(100 * (heard - note.midi) - tuning), `${bank.name} ${note.midi}`).toBeLessThan(8);
        }
      }
  });
  it('stops a string at its re-pluck and leaves nothing before the first note', () => {
    const plan = [0, 1].map((i) => ({
      onsetSec: 0.3 + 0.3 * i,
      durationSec: 0.3,
      midi: 45,
      levelDb: -20 * i,
    }));
    const { signal } = perform(plan, bankNamed('electric'), {
      sampleRate: 44_100,
      durationSec: 1,
      random: makeRandom(1),
    });
    const level = (fromSec: number, toSec: number): number => {
      const part = signal.subarray(Math.round(fromSec * 44_100), Math.round(toSec * 44_100));
      return 10 * Math.log10(part.reduce((sum, x) => sum + x * x, 0) / part.length + 1e-20);
    };
    expect(level(0, 0.28)).toBeLessThan(-190);
    expect(level(0.5, 0.55) - level(0.62, 0.67)).toBeGreaterThan(12);
  });
});

describe('an effect that lets notes speak late', () => {
  it('holds back 6–16 dB of each for 9.6–48 ms from its pluck, opens within 10 ms and touches nothing else', () => {
    const rate = 48_000;
    const plucks = [4800, 14_400];
    for (let seed = 0; seed < 20; seed++) {
      const gain = new Float32Array(24_000).fill(1);
      speakLate(gain, plucks, rate, makeRandom(seed));
      for (const pluck of plucks) {
        const db = 20 * Math.log10(gain[pluck]!);
        expect(db).toBeLessThanOrEqual(-6);
        expect(db).toBeGreaterThanOrEqual(-16);
        const opens = gain.findIndex((g, i) => i >= pluck && g > gain[pluck]!) - pluck;
        expect(opens / rate).toBeGreaterThan(0.0095);
        expect(opens / rate).toBeLessThan(0.0485);
        const open = gain.findIndex((g, i) => i >= pluck && g === 1) - pluck;
        expect((open - opens) / rate).toBeLessThan(0.0105);
        const following = gain.subarray(pluck + open, plucks.find((p) => p > pluck) ?? gain.length);
        expect(following.every((g) => g === 1)).toBe(true);
      }
      expect(gain.subarray(0, plucks[0]).every((g) => g === 1)).toBe(true);
    }
  });
});

const names = Object.keys(FAMILIES) as FamilyName[];
const absent = absentFamilies();

describe('every family', () => {
  for (const family of names)
    it.skipIf(absent.includes(family))(`${family} makes sound takes with their truth in order`, () => {
      const { signal, truth, sampleRate } = makeTake({ family, seed: 77, bank: bankNamed('acoustic') });
      expect(truth.length > 0).toBe(!isNegative(family));
      expect(signal.every((x) => Number.isFinite(x) && Math.abs(x) <= 1.05)).toBe(true);
      truth.forEach((note, i) => {
        expect(note.onsetSec).toBeGreaterThanOrEqual(i === 0 ? 0.2 : truth[i - 1]!.onsetSec + 0.03);
        expect(note.offsetSec).toBeGreaterThan(note.onsetSec);
        expect(note.onsetSec + 0.3).toBeLessThan(signal.length / sampleRate);
        expect(Number.isInteger(note.midi)).toBe(true);
      });
    });
});

describe('recorded noises', () => {
  const handling = ['knock', 'shift', 'stir'] as const;
  it.skipIf(absent.includes('knock'))(
    'begin at once and are 1 at their loudest, of either side and every kind',
    () => {
      for (const side of ['fit', 'kept'] as const)
        for (const kind of ['body', 'tap', 'rub'] as const)
          for (let seed = 0; seed < 12; seed++) {
            const pcm = recordedNoise(side, kind, 44_100, makeRandom(seed));
            const window = 882;
            let top = 0;
            for (let at = 0; at + window <= pcm.length; at += 63)
              top = Math.max(top, pcm.subarray(at, at + window).reduce((sum, x) => sum + x * x, 0) / window);
            expect(Math.abs(10 * Math.log10(top)), `${side} ${kind} ${seed}`).toBeLessThan(0.5);
            expect(pcm.findIndex((x) => x !== 0)).toBeLessThan(10);
          }
    },
  );
  it.skipIf(absent.includes('knock'))(
    'stand 55 ms and more from every pluck, and differ between the sides',
    () => {
      for (const family of handling) {
        const order = { family, seed: 78, bank: bankNamed('acoustic') };
        const take = makeTake(order);
        expect(take.noises.length).toBeGreaterThan(0);
        for (const { fromSec } of take.noises)
          for (const { onsetSec } of take.truth) expect(Math.abs(onsetSec - fromSec)).toBeGreaterThan(0.0549);
        const other = makeTake({ ...order, noises: 'kept' });
        expect(Buffer.from(other.signal.buffer).equals(Buffer.from(take.signal.buffer))).toBe(false);
      }
    },
  );
});

describe('blocks that are cut out', () => {
  it('break the wave where they say and hardly elsewhere, 8 ms and more from every pluck', () => {
    const broken = { there: 0, elsewhere: 0 };
    let places = 0;
    for (let seed = 80; seed < 84; seed++) {
      const { signal, truth, noises, sampleRate } = makeTake({
        family: 'skip',
        seed,
        bank: bankNamed('acoustic'),
      });
      expect(noises.length).toBeGreaterThan(2);
      const isBroken = (at: number): boolean => {
        const jump = (i: number): number =>
          Math.abs(signal[i]! - 3 * signal[i - 1]! + 3 * signal[i - 2]! - signal[i - 3]!);
        let around = 0;
        for (let i = at - 60; i < at - 5; i++) around = Math.max(around, jump(i));
        return Math.max(...[-1, 0, 1, 2, 3].map((k) => jump(at + k))) > 2 * around;
      };
      for (const { fromSec } of noises) {
        for (const { onsetSec } of truth) expect(Math.abs(onsetSec - fromSec)).toBeGreaterThan(0.0079);
        const at = Math.round(fromSec * sampleRate);
        places++;
        if (isBroken(at)) broken.there++;
        if (isBroken(at - 400)) broken.elsewhere++;
      }
    }
    // Where the wave happens to meet itself, or is loud, nothing is seen.
    expect(broken.there).toBeGreaterThan(0.35 * places);
    expect(broken.elsewhere).toBeLessThan(0.1 * places);
  });
});

describe('a take', () => {
  it('is the same again from the same order, and another from another seed', () => {
    const order = { family: 'contact', seed: 9, bank: bankNamed('nylon'), sampleRate: 48_000 } as const;
    const one = makeTake(order);
    const again = makeTake(order);
    expect(Buffer.from(again.signal.buffer).equals(Buffer.from(one.signal.buffer))).toBe(true);
    expect(again.truth).toEqual(one.truth);
    expect(makeTake({ ...order, seed: 10 }).truth).not.toEqual(one.truth);
  });
  it('of an unknown family is refused by name', () => {
    const order = { family: 'opera' as FamilyName, seed: 1, bank: bankNamed('nylon') };
    expect(() => makeTake(order)).toThrow(/^no family "opera"; there are mel, rhy, /);
  });
});

describe('a set of takes', () => {
  it('names every take once, in every family, at both rates, and shares no seed with another set', () => {
    const set = takeSet(banks, 1000);
    expect(new Set(set.map((r) => r.id)).size).toBe(set.length);
    expect(new Set(set.map((r) => r.family))).toEqual(
      new Set(names.filter((name) => !absent.includes(name))),
    );
    expect(set.some((r) => r.id.includes('-48000-')) && set.some((r) => r.id.includes('-44100-'))).toBe(true);
    const fresh = new Set(takeSet(banks, 500_000).map((r) => r.id));
    expect(set.filter((r) => fresh.has(r.id))).toEqual([]);
  });
});
