import { addHiss } from './effects/noise.ts';
import { convolve, roomResponse } from './effects/room.ts';
import { melody } from './plans/melody.ts';
import { rhythm } from './plans/rhythm.ts';
import { perform } from './player.ts';
import { hashText, makeRandom } from './random.ts';
import { peakTo } from './take.ts';
import type { Bank } from './banks/types.ts';
import type { Plan } from './plans/melody.ts';
import type { TrueNote } from './planned.ts';
import type { Random } from './random.ts';
import type { Take } from './take.ts';

export interface Setting {
  readonly bank: Bank;
  readonly random: Random;
  readonly sampleRate: number;
}
export interface Made {
  readonly signal: Float32Array;
  readonly truth: readonly TrueNote[];
  readonly tuningCents?: number;
}
export interface Family {
  /** What it is for, in one line of the table. */
  readonly what: string;
  readonly make: (setting: Setting) => Made;
}

/** A hand position: fourteen semitones somewhere between the lowest string and the middle of the neck. */
export function position(bank: Bank, random: Random): [number, number] {
  const lowest = bank.instrument === 'bass' ? random.whole(28, 41) : random.whole(40, 62);
  return [lowest, lowest + 14];
}

export const lowestString = (bank: Bank): number => (bank.instrument === 'bass' ? 28 : 40);

/** Plays a plan dry. */
export function play(plan: Plan, { bank, random, sampleRate }: Setting, tuningCents = 0): Made {
  const { signal, truth } = perform(plan.notes, bank, {
    sampleRate,
    durationSec: plan.durationSec,
    random: random.fork('player'),
    tuningCents,
  });
  return { signal, truth, tuningCents };
}

/** A quiet room and a decent microphone: dry or small room, peak −3…−14 dBFS, hiss under −62 dBFS. */
export function ordinaryRoom(made: Made, { random, sampleRate }: Setting): Made {
  let { signal } = made;
  if (random.chance(0.5)) {
    const room = { rt60Sec: random.between(0.12, 0.28), wetDb: random.between(-22, -14) };
    signal = convolve(signal, roomResponse(room, sampleRate, random.fork('room')));
  }
  peakTo(signal, random.between(-14, -3));
  addHiss(signal, random.between(-78, -62), sampleRate, random.fork('hiss'));
  return { ...made, signal };
}

export const FAMILIES = {
  mel: {
    what: 'base melody, dry or small room',
    make: (s) => ordinaryRoom(play(melody(s.random, ...position(s.bank, s.random)), s), s),
  },
  rhy: {
    what: 'base rhythm on the lowest string',
    make: (s) => ordinaryRoom(play(rhythm(s.random, lowestString(s.bank)), s), s),
  },
} satisfies Record<string, Family>;
export type FamilyName = keyof typeof FAMILIES;

export interface TakeOrder {
  readonly family: FamilyName;
  readonly seed: number;
  readonly bank: Bank;
  readonly sampleRate?: number;
}

/** Makes one take; the same order gives the same samples on every machine. */
export function makeTake({ family, seed, bank, sampleRate = 44_100 }: TakeOrder): Take {
  const recipe: Family | undefined = FAMILIES[family];
  if (!recipe) throw new RangeError(`no family "${family}"; there are ${Object.keys(FAMILIES).join(', ')}`);
  const random = makeRandom((seed ^ hashText(`${family}/${bank.name}`)) >>> 0);
  const made = recipe.make({ bank, random, sampleRate });
  return {
    id: `${family}-${bank.name}-${sampleRate}-${seed}`,
    family,
    bank: bank.name,
    instrument: bank.instrument,
    seed,
    sampleRate,
    signal: made.signal,
    truth: [...made.truth].sort((a, b) => a.onsetSec - b.onsetSec),
    tuningCents: made.tuningCents ?? 0,
  };
}
