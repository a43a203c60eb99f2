import type { ProcedureState } from '../tests-engine/index.ts';

/** The steps of a test as the player reads them. */
export const STEP_WORDS = ['key', 'listen', 'again', 'practice', 'count', 'play'] as const;
export type StepWord = (typeof STEP_WORDS)[number];

/** The word for where the procedure stands; null once the take is over. */
export function stepWord(state: ProcedureState): StepWord | null {
  switch (state.step) {
    case 'ready':
      return 'key';
    case 'hearing':
      return state.phrasesBegun === 0 ? 'key' : state.phrasesBegun === 1 ? 'listen' : 'again';
    case 'practice':
      return 'practice';
    case 'countIn':
      return 'count';
    case 'take':
      return 'play';
    default:
      return null;
  }
}
