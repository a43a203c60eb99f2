import { HANDLING } from './handling.ts';
import { NEGATIVES } from './negatives.ts';
import { PLAYERS } from './players.ts';
import { SURROUNDINGS } from './surroundings.ts';
import { TOUCHES } from './touches.ts';
import type { Family } from './types.ts';

export const FAMILIES = {
  ...TOUCHES,
  ...PLAYERS,
  ...SURROUNDINGS,
  ...HANDLING,
  ...NEGATIVES,
} satisfies Record<string, Family>;
export type FamilyName = keyof typeof FAMILIES;
/** Families that need a program which this machine lacks. */
export const absentFamilies = (): FamilyName[] =>
  (Object.entries(FAMILIES) as [FamilyName, Family][])
    .filter(([, { installed }]) => installed && !installed())
    .map(([name]) => name);
/** True where the family's takes hold no notes worth marking. */
export const isNegative = (name: FamilyName): boolean => name in NEGATIVES;
