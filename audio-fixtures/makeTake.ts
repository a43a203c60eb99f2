import { FAMILIES } from './families/index.ts';
import { hashText, makeRandom } from './random.ts';
import type { Bank } from './banks/types.ts';
import type { FamilyName } from './families/index.ts';
import type { Family } from './families/types.ts';
import type { NoiseSide } from './noises/index.ts';
import type { Take } from './take.ts';

export interface TakeOrder {
  readonly family: FamilyName;
  /** Whole number 0…2³²−1. */
  readonly seed: number;
  readonly bank: Bank;
  /** Hz; default 44 100. */
  readonly sampleRate?: number;
  /** Which recorded noises are laid in, where the family has any; default those that the fit may learn from. */
  readonly noises?: NoiseSide;
}

/** A take's name: enough to make it again. */
export const takeId = ({ family, seed, bank, sampleRate = 44_100 }: TakeOrder): string =>
  `${family}-${bank.name}-${sampleRate}-${seed}`;

/** Makes one take; the same order gives the same samples. Throws `RangeError` on an unknown family. */
export function makeTake(order: TakeOrder): Take {
  const { family, seed, bank, sampleRate = 44_100, noises = 'fit' } = order;
  const recipe = Object.hasOwn(FAMILIES, family) ? (FAMILIES[family] as Family) : null;
  if (!recipe) throw new RangeError(`no family "${family}"; there are ${Object.keys(FAMILIES).join(', ')}`);
  const random = makeRandom((seed ^ hashText(`${family}/${bank.name}`)) >>> 0);
  const made = recipe.make({ bank, random, sampleRate, noises });
  return {
    id: takeId(order),
    family,
    bank: bank.name,
    instrument: bank.instrument,
    seed,
    sampleRate,
    signal: made.signal,
    truth: [...made.truth].sort((a, b) => a.onsetSec - b.onsetSec),
    tuningCents: made.tuningCents ?? 0,
    noises: made.noises ?? [],
  };
}
