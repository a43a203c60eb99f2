export { attackIndex, envelope } from './attack.ts';
export { FAMILIES, makeTake } from './families.ts';
export { developmentSet, freshSet, loadBanks } from './sets.ts';
export type { Bank, RecordedNote } from './banks/types.ts';
export type { FamilyName, TakeOrder } from './families.ts';
export type { TrueNote } from './planned.ts';
export type { Take } from './take.ts';
export type { TakeRecipe } from './sets.ts';
