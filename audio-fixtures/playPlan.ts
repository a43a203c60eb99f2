import { ordinaryRoom, play } from './families/playing.ts';
import { makeRandom } from './random.ts';
import type { Bank } from './banks/types.ts';
import type { PlannedNote } from './planned.ts';
import type { Take } from './take.ts';

export interface PlanOrder {
  readonly notes: readonly PlannedNote[];
  readonly bank: Bank;
  /** Whole number 0…2³²−1: recordings, room, hiss. */
  readonly seed: number;
  /** Hz; default 44 100. */
  readonly sampleRate?: number;
}

/** A take of notes planned elsewhere, in an ordinary room; the same order gives the same samples. */
export function playPlan({ notes, bank, seed, sampleRate = 44_100 }: PlanOrder): Take {
  const setting = { bank, random: makeRandom(seed), sampleRate, noises: 'fit' } as const;
  const durationSec = Math.max(...notes.map((note) => note.onsetSec + note.durationSec)) + 1;
  const made = ordinaryRoom(play({ notes, durationSec, tempoBpm: 60 }, setting), setting);
  return {
    id: `plan-${bank.name}-${sampleRate}-${seed}`,
    family: 'plan',
    bank: bank.name,
    instrument: bank.instrument,
    seed,
    sampleRate,
    signal: made.signal,
    truth: [...made.truth].sort((a, b) => a.onsetSec - b.onsetSec),
    tuningCents: 0,
    noises: [],
  };
}
