import type { PlannedStep, ProcedureState } from '../tests-engine/index.ts';

/** The steps of a task as the player reads them: words of the catalogue under `step.`. */
export type StepWord =
  'key' | 'listen' | 'again' | 'practice' | 'read' | 'recall' | 'chart' | 'count' | 'play' | 'ready';

const wordsOf = (step: PlannedStep): readonly StepWord[] => {
  switch (step.does) {
    case 'hear':
      return ['key', 'listen', 'again'];
    case 'prepare':
      return [step.named];
    case 'play':
      return step.sheet === null ? ['ready'] : ['count', 'play'];
    case 'ask':
      return [];
  }
};

/** The words of a whole plan, in order. */
export const stepWords = ({ plan }: Pick<ProcedureState, 'plan'>): readonly StepWord[] =>
  plan.flatMap(wordsOf);

/** The word for where the procedure stands; null once the take is over. */
export function stepWord(state: ProcedureState): StepWord | null {
  const planned = state.plan[state.at];
  switch (state.step) {
    case 'ready':
      return stepWords(state)[0] ?? null;
    case 'hearing':
      return state.phrasesBegun === 0 ? 'key' : state.phrasesBegun === 1 ? 'listen' : 'again';
    case 'practice':
      return planned?.does === 'prepare' ? planned.named : null;
    case 'countIn':
      return 'count';
    case 'take':
      return planned?.does === 'play' && planned.sheet === null ? 'ready' : 'play';
    default:
      return null;
  }
}
