import { loadNpmBank, NPM_BANKS } from './banks/npm.ts';
import { makeTake } from './families.ts';
import type { NpmBankName } from './banks/npm.ts';
import type { Bank } from './banks/types.ts';
import type { FamilyName } from './families.ts';
import type { Take } from './take.ts';

/** A take that is made when asked for: a whole set at once would be some 200 MB. */
export interface TakeRecipe {
  readonly id: string;
  readonly family: FamilyName;
  readonly bank: string;
  readonly make: () => Take;
}

const SHARES: Record<FamilyName, number> = { mel: 12, rhy: 24 };

/** All banks at hand on this machine. */
export async function loadBanks(): Promise<Bank[]> {
  const banks: Bank[] = [];
  for (const name of Object.keys(NPM_BANKS) as NpmBankName[]) banks.push(await loadNpmBank(name));
  return banks;
}

function recipes(banks: readonly Bank[], firstSeed: number): TakeRecipe[] {
  const out: TakeRecipe[] = [];
  for (const [family, count] of Object.entries(SHARES) as [FamilyName, number][])
    for (let i = 0; i < count; i++) {
      const bank = banks[i % banks.length];
      const seed = firstSeed + i;
      const sampleRate = i % 3 === 2 ? 48_000 : 44_100;
      out.push({
        id: `${family}-${bank.name}-${sampleRate}-${seed}`,
        family,
        bank: bank.name,
        make: () => makeTake({ family, seed, bank, sampleRate }),
      });
    }
  return out;
}

/** The set the listener is developed on. */
export const developmentSet = async (): Promise<TakeRecipe[]> => recipes(await loadBanks(), 1000);
/** Other seeds, looked at rarely and never tuned on. */
export const freshSet = async (): Promise<TakeRecipe[]> => recipes(await loadBanks(), 500_000);
