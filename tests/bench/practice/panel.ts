import type { PartId } from '../../../src/tests-engine/index.ts';
import type { LearnerOptions } from '../../tests-engine/progress/learner.ts';

/**
 * The students of the panel: ways of learning, forgetting and being weak, each a change of one thing in the
 * usual student. Rates only set the pace (sixty tests lift a student by some six notes of 100); they favour no
 * way of choosing.
 */
const USUAL = { base: 4, rate: 0.04, notYet: 3, credit: 'lost above a challenge' } as const;
export const USUAL_NAME = 'usual: learns little when lost';
export const PANEL: Readonly<Record<string, Partial<LearnerOptions>>> = {
  [USUAL_NAME]: USUAL,
  'four tests in five teach most': { ...USUAL, credit: 'four tests in five' },
  '84 of 100 notes teach most': { ...USUAL, credit: '84 of 100 notes' },
  'mostly success teaches': { ...USUAL, credit: 'mostly success' },
  'only success teaches': { ...USUAL, credit: 'success' },
  'any exposure teaches': { ...USUAL, credit: 'exposure', rate: 0.03 },
  'even odds teach most': { ...USUAL, credit: 'even odds' },
  'errors teach': { ...USUAL, credit: 'error' },
  'power law of practice': { ...USUAL, law: 'power' },
  'forgets nothing, no off days': { ...USUAL, halfLifeDays: Infinity, offDays: false },
  'forgets fast (half in 3 days)': { ...USUAL, halfLifeDays: 3 },
  'flat profile': { ...USUAL, profile: 'flat' },
  beginner: { ...USUAL, base: 3.3 },
  'strong player': { ...USUAL, base: 4.7 },
};

/** May be planted as weak: 23 parts that a student at a middle level meets. */
export const MAY_BE_WEAK: readonly PartId[] = [
  ...(['repeat', 'step-up', 'step-down', 'third-up', 'third-down', 'fourth-up', 'fourth-down'] as const),
  ...(['degree-1', 'degree-2', 'degree-3', 'degree-4', 'degree-5', 'degree-6', 'degree-7'] as const),
  ...(['turn', 'opening', 'ending', 'off-beat', 'crotchet-gap', 'short-gap'] as const),
  ...(['after-rest', 'after-dot', 'over-beat'] as const),
];

/**
 * Those of them that every one of the levels 4–6 brings, in at least three notes of 100: 20 parts. (Quick notes come
 * at level 6 only, always with beats of three; notes after a dotted or a held one in few tests: no record of sixty
 * tests can tell such parts apart.)
 */
const SELDOM: readonly PartId[] = ['short-gap', 'after-dot', 'over-beat'];
export const REGULAR: readonly PartId[] = MAY_BE_WEAK.filter((part) => !SELDOM.includes(part));
