/** Takes with exact truth, made from real recorded notes. Recipes only: see README.md for the recordings. */
export { attackIndex, envelope } from './attack.ts';
export { loadBanks, SPLITS } from './banks/index.ts';
export { absentFamilies, FAMILIES, isNegative } from './families/index.ts';
export { absentNoises, loadNoises, recordedNoise } from './noises/index.ts';
export { makeTake } from './makeTake.ts';
export { playPlan } from './playPlan.ts';
export { developmentSet, freshSet, phraseSet, takeSet, triedSet } from './sets.ts';
export type { BankName, Banks } from './banks/index.ts';
export type { Bank, RecordedNote } from './banks/types.ts';
export type { FamilyName } from './families/index.ts';
export type { TakeOrder } from './makeTake.ts';
export type { PlanOrder } from './playPlan.ts';
export type { PlannedNote, TrueNote } from './planned.ts';
export type { TakeRecipe } from './sets.ts';
export type { Take } from './take.ts';
