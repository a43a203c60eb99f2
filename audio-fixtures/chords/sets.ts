import { loadBanks, type BankName } from '../banks/index.ts';
import type { Bank } from '../banks/types.ts';
import { makeRandom } from '../random.ts';
import { FAULTS, RIGHT, type Fault } from './faults.ts';
import { CHORD_KINDS, type ChordKind } from './shapes.ts';
import { EFFECTS, type Effect, type StrumOrder } from './strum.ts';

/**
 * Instruments kept apart: nothing is fitted, and no threshold chosen, on those of the report. Distorted and palm-muted recordings
 * are in neither: overdrive is put on by the recipe, and a muted string is no chord's.
 */
export const CHORD_BANKS: Record<'fit' | 'report', readonly BankName[]> = {
  fit: [
    'electric',
    'acoustic',
    'fluid-clean',
    'fluid-jazz',
    'fluid-nylon',
    'freepats-steel',
    'freepats-jazz',
    'freepats-nylon',
    'bass',
    'fluid-picked',
  ],
  report: ['nylon', 'fluid-steel', 'freepats-clean', 'fluid-fingered', 'fluid-fretless'],
};

export interface SetOptions {
  readonly which: 'fit' | 'report';
  readonly seed: number;
  readonly count: number;
  /** Share of right strums among them. */
  readonly right: number;
  readonly effects?: readonly Effect[];
  readonly banks?: readonly Bank[];
}

/** Orders of a set: kinds, banks and effects go round by chance, the faults of the wrong ones evenly. */
export async function strumSet({
  which,
  seed,
  count,
  right,
  effects = EFFECTS,
  banks,
}: SetOptions): Promise<StrumOrder[]> {
  const all = (banks ?? (await loadBanks()).all).filter((bank) =>
    CHORD_BANKS[which].includes(bank.name as BankName),
  );
  const guitars = all.filter((bank) => bank.instrument === 'guitar');
  const basses = all.filter((bank) => bank.instrument === 'bass');
  const wrong = FAULTS.filter((fault) => !RIGHT.includes(fault));
  const orders: StrumOrder[] = [];
  for (let i = 0; i < count; i++) {
    const random = makeRandom((seed * 1_000_003 + i) >>> 0);
    const kind: ChordKind =
      basses.length > 0 ? random.pick(CHORD_KINDS) : random.pick(CHORD_KINDS.slice(0, -1));
    const pool = kind === 'double stop' ? basses : guitars;
    const fault: Fault = random.chance(right)
      ? random.chance(0.5)
        ? 'right'
        : random.pick(RIGHT)
      : random.pick(wrong);
    orders.push({
      kind,
      fault,
      effect: random.pick(effects),
      bank: random.pick(pool),
      seed: (seed + i) >>> 0,
    });
  }
  return orders;
}
