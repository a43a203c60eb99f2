import { step, type ProcedureEvent, type ProcedureState } from '../tests-engine/index.ts';

/** What a key does in words of the catalogue; null: nothing now. */
export type KeyWord =
  | 'listen'
  | 'again'
  | 'find'
  | 'prepare'
  | 'play'
  | 'count'
  | 'over'
  | 'give-up'
  | 'next'
  | 'a'
  | 'b'
  | 'beat'
  | 'answer'
  | 'start';

/**
 * What going on or turning back would do now: the procedure itself is asked, so that what is read on the screen is what
 * happens. Nothing is changed by asking.
 */
export function keyWord(
  state: ProcedureState,
  event: Extract<ProcedureEvent['type'], 'goOn' | 'back'>,
): KeyWord | null {
  const { state: after, commands } = step(state, { type: event });
  if (after === state && commands.length === 0) return null;
  if (state.step === 'question') {
    if (after.step !== 'question') return 'answer';
    if (typeof after.chosen !== 'string') return 'beat';
    return after.chosen === 'A' ? 'a' : 'b';
  }
  switch (after.step) {
    case 'hearing':
      return state.step === 'ready' ? 'listen' : 'again';
    case 'practice':
      return after.plan.some(({ does }) => does === 'hear') ? 'find' : 'prepare';
    case 'countIn':
      return 'count';
    case 'take':
      return 'play';
    case 'listening':
    case 'question':
      return 'over';
    case 'result':
      return after.take.status === 'void' ? 'give-up' : 'over';
    case 'left':
      return 'next';
    default:
      return after.step === 'ready' ? 'start' : null;
  }
}
