import { phraseSec, type Pace } from '../../music/time.ts';
import type { Phrase } from '../../music/score.ts';
import { bpm } from '../../music/units.ts';
import type { Plan, PlannedStep } from '../procedure/index.ts';

/** A player who takes four times as long as is written has stopped … */
const SLOWEST_SHARE = 4;
/** … and so much time there is to begin in. */
const READY_SEC = 30;

/** What is prepared for a time and then played once, to a click or when ready. */
export function preparedPlan(
  { phrase, tempoBpm }: Pick<Pace, 'tempoBpm'> & { readonly phrase: Phrase },
  click: boolean,
  prepare: Omit<Extract<PlannedStep, { does: 'prepare' }>, 'does'>,
): Plan {
  const steps: PlannedStep[] = [
    { does: 'prepare', ...prepare },
    {
      does: 'play',
      sheet: click ? 'performance' : null,
      passes: 1,
      longestSec: READY_SEC + SLOWEST_SHARE * phraseSec({ phrase, tempoBpm }),
      records: true,
    },
  ];
  return { steps, bars: phrase.bars, hearings: 1 };
}

/** The task at so much of its tempo. @throws RangeError for a factor out of range */
export function atTempo<T extends Pick<Pace, 'tempoBpm'>>(task: T, tempoFactor = 1): T {
  if (!(tempoFactor >= 0.25 && tempoFactor <= 1.5))
    throw new RangeError(`a tempo factor lies between 0.25 and 1.5, got ${tempoFactor}`);
  return tempoFactor === 1 ? task : { ...task, tempoBpm: bpm(task.tempoBpm * tempoFactor) };
}
