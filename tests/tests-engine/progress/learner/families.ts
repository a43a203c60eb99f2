import type { PartId } from '../../../../src/tests-engine/index.ts';

/** Parts that share a skill: strengths inside a family go together, and practice spreads in it. */
export const FAMILIES: readonly (readonly PartId[])[] = [
  ['step-up', 'step-down', 'repeat'],
  ['third-up', 'third-down'],
  ['fourth-up', 'fourth-down', 'fifth-up', 'fifth-down', 'wide-up', 'wide-down', 'turn'],
  ['degree-1', 'degree-3', 'degree-5'],
  ['degree-2', 'degree-4', 'degree-6', 'degree-7', 'chromatic'],
  ['opening', 'ending'],
  ['on-beat', 'crotchet-gap', 'first-bar', 'later-bars'],
  ['off-beat', 'quaver-gap', 'after-rest', 'after-dot', 'over-beat'],
  ['quarter-beat', 'short-gap', 'triplet'],
  ['slow', 'medium', 'fast'],
  ['compound', 'odd-metre'],
];
export const familyOf = (part: PartId): readonly PartId[] => FAMILIES.find((one) => one.includes(part))!;

/** What only higher levels bring, and a student at a middle level has not learnt. */
export const NOT_YET: readonly PartId[] = [
  ...(['quarter-beat', 'short-gap', 'triplet', 'over-beat', 'compound', 'odd-metre', 'chromatic'] as const),
  ...(['fifth-up', 'fifth-down', 'wide-up', 'wide-down', 'degree-6'] as const),
];
