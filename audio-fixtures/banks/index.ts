import { loadNoises } from '../noises/index.ts';
import { FLUID_BANKS, loadFluidBank } from './fluid.ts';
import { FREEPATS_BANKS, loadFreepatsBank } from './freepats.ts';
import { loadNpmBank, NPM_BANKS } from './npm.ts';
import type { FluidBankName } from './fluid.ts';
import type { FreepatsBankName } from './freepats.ts';
import type { NpmBankName } from './npm.ts';
import type { Bank } from './types.ts';

export type BankName = NpmBankName | FluidBankName | FreepatsBankName;

/**
 * Two halves with nothing in common, each with acoustic, electric and (given the sound font) bass: what is
 * fitted on one is tested on instruments it never heard.
 */
export const SPLITS: Record<'a' | 'b', readonly BankName[]> = {
  a: [
    'electric',
    'acoustic',
    'bass',
    'fluid-nylon',
    'fluid-muted',
    'fluid-picked',
    'fluid-slap',
    'fluid-distorted',
    'freepats-steel',
    'freepats-clean',
  ],
  b: [
    'nylon',
    'fluid-clean',
    'fluid-jazz',
    'fluid-steel',
    'fluid-fingered',
    'fluid-fretless',
    'fluid-upright',
    'freepats-nylon',
    'freepats-jazz',
    'freepats-distorted',
    'freepats-fingered',
  ],
};

export interface Banks {
  readonly all: readonly Bank[];
  /** Names of banks that are not on this machine. */
  readonly absent: readonly BankName[];
}

/** Every bank at hand on this machine. Recordings are decoded once and then read from `.cache`. */
export async function loadBanks(only: 'npm' | 'all' = 'all'): Promise<Banks> {
  if (only === 'all') await loadNoises();
  const all: Bank[] = [];
  const absent: BankName[] = [];
  for (const name of Object.keys(NPM_BANKS) as NpmBankName[]) all.push(await loadNpmBank(name));
  if (only === 'all')
    for (const name of Object.keys(FLUID_BANKS) as FluidBankName[]) {
      const bank = await loadFluidBank(name);
      if (bank) all.push(bank);
      else absent.push(name);
    }
  if (only === 'all')
    for (const name of Object.keys(FREEPATS_BANKS) as FreepatsBankName[]) {
      const bank = await loadFreepatsBank(name);
      if (bank) all.push(bank);
      else absent.push(name);
    }
  return { all, absent };
}
