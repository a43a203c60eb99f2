import { loadBanks } from './banks/index.ts';
import { FAMILIES } from './families/index.ts';
import { makeTake, takeId } from './makeTake.ts';
import type { Bank } from './banks/types.ts';
import type { FamilyName } from './families/index.ts';
import type { Family } from './families/types.ts';
import type { NoiseSide } from './noises/index.ts';
import type { Take } from './take.ts';

/** A take that is made when asked for: a whole set at once would be some 400 MB. */
export interface TakeRecipe {
  readonly id: string;
  readonly family: FamilyName;
  readonly bank: string;
  readonly make: () => Take;
}

/** Takes of each family in a set: base families as often as practice meets them, the rest enough to tell a change of about 2 %. */
const SHARES: Record<FamilyName, number> = {
  mel: 18,
  rhy: 30,
  mute: 8,
  slur: 10,
  glide: 10,
  ring: 10,
  drive: 7,
  fast: 10,
  repluck: 12,
  soft: 12,
  bend: 10,
  detune: 10,
  dynam: 10,
  finger: 8,
  noise: 12,
  contact: 24,
  sparse: 12,
  hum: 8,
  room: 10,
  rroom: 6,
  behind: 10,
  phone: 8,
  clip: 6,
  speech: 6,
  babble: 6,
  singing: 6,
  humming: 6,
  metro: 4,
  handling: 6,
  silence: 1,
  hiss: 3,
  backing: 4,
  // New ones last, so that no other family's banks go round differently.
  gate: 10,
  knock: 20,
  shift: 14,
  stir: 14,
  skip: 12,
};
/** One take in three is at 48 kHz, the rate most browsers capture at; the recordings themselves are 44.1 kHz. */
const rateOf = (index: number): number => (index % 3 === 2 ? 48_000 : 44_100);

/**
 * Each family's takes, going round the banks that can play it, with recorded noises of one side.
 * @param only these families
 */
export function takeSet(
  banks: readonly Bank[],
  firstSeed: number,
  noises: NoiseSide = 'fit',
  only?: readonly FamilyName[],
): TakeRecipe[] {
  const out: TakeRecipe[] = [];
  (Object.entries(SHARES) as [FamilyName, number][]).forEach(([family, count], place) => {
    const { plays, without = [], installed = () => true } = FAMILIES[family] as Family;
    if (!installed() || only?.includes(family) === false) return;
    const able = banks.filter(
      (bank) => (plays === 'both' || bank.instrument === plays) && !without.includes(bank.name),
    );
    for (let i = 0; i < count && able.length > 0; i++) {
      const bank = able[(i + place) % able.length]!;
      const order = { family, seed: firstSeed + i, bank, sampleRate: rateOf(i), noises };
      out.push({ id: takeId(order), family, bank: bank.name, make: () => makeTake(order) });
    }
  });
  return out;
}

/** The set the listener is developed on; with every bank at hand unless told which. */
export const developmentSet = async (banks?: readonly Bank[]): Promise<TakeRecipe[]> =>
  takeSet(banks ?? (await loadBanks()).all, 1000);
/** Other seeds, and noises that no fit has heard: looked at rarely, never tuned on. */
export const freshSet = async (banks?: readonly Bank[]): Promise<TakeRecipe[]> =>
  takeSet(banks ?? (await loadBanks()).all, 500_000, 'kept');

/** First seeds of {@link triedSet}. */
const TRIED = [700_000, 730_000, 760_000];
/** Takes of hands with noises that no fit learns from and the fresh set does not hold: by them the third look is chosen. */
export const triedSet = async (banks?: readonly Bank[]): Promise<TakeRecipe[]> => {
  const { all } = banks ? { all: banks } : await loadBanks();
  return TRIED.flatMap((seed) => takeSet(all, seed, 'tried', ['knock', 'shift', 'stir']));
};

/** How many melodies and how many rhythms {@link phraseSet} holds. */
const PHRASES = 24;

/** Plain phrases only: melodies and low-string rhythms with the npm packs, so that any machine has them. */
export async function phraseSet(): Promise<TakeRecipe[]> {
  const { all } = await loadBanks('npm');
  const out: TakeRecipe[] = [];
  for (const family of ['mel', 'rhy'] as const)
    for (let i = 0; i < PHRASES; i++) {
      const order = { family, seed: 2000 + i, bank: all[i % all.length]!, sampleRate: rateOf(i) };
      out.push({ id: takeId(order), family, bank: order.bank.name, make: () => makeTake(order) });
    }
  return out;
}
