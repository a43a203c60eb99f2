import { addHiss } from '../effects/noise.ts';
import { convolve, roomResponse } from '../effects/room.ts';
import { melody } from '../plans/melody.ts';
import { rhythm } from '../plans/rhythm.ts';
import { perform } from '../player.ts';
import { peakTo } from '../take.ts';
import type { Bank } from '../banks/types.ts';
import type { Plan } from '../plans/melody.ts';
import type { Random } from '../random.ts';
import type { Made, Setting } from './types.ts';

/** What the families share: where on the neck, playing a plan, and an ordinary room. */

export const lowestString = (bank: Bank): number => (bank.instrument === 'bass' ? 28 : 40);
export const openStrings = (bank: Bank): readonly number[] =>
  bank.instrument === 'bass' ? [28, 33, 38, 43] : [40, 45, 50, 55, 59, 64];

/** A hand position: fourteen semitones within the first twelve frets and the bank's own compass. */
export function position(bank: Bank, random: Random): [number, number] {
  const bottom = lowestString(bank);
  const recordedTop = Math.floor(bank.notes[bank.notes.length - 1]!.midi) + 3;
  const top = Math.min(bank.instrument === 'bass' ? 55 : 76, recordedTop);
  const lowest = random.whole(bottom, top - 14);
  return [lowest, lowest + 14];
}

export const somewhere = (s: Setting): Plan => melody(s.random, ...position(s.bank, s.random));
export const lowRhythm = (s: Setting): Plan => rhythm(s.random, lowestString(s.bank));
/** A melody or, one time in three, a rhythm. */
export const either = (s: Setting): Plan => (s.random.chance(1 / 3) ? lowRhythm(s) : somewhere(s));

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
