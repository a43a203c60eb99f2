import { countedBeats } from '../../../music/question.ts';
import type { PracticeTest } from '../../../music/score.ts';
import { phraseSec } from '../../../music/time.ts';
import type { PlannedStep } from '../../procedure/index.ts';
import { countedSpan } from '../../take/index.ts';
import type { TaskHandler } from '../types.ts';
import { asSounded, firstNoteSheet, hearingSheet, performanceSheet, phraseSheet } from './sheets.ts';

/**
 * What melody and rhythm share: hear it over a backing, find it, play it over the backing alone. Recording runs from
 * the hearing on: over loudspeakers the room is learnt from it.
 */
export function heardTask<T extends PracticeTest>(
  own: Pick<TaskHandler<T>, 'kind' | 'mark'> & { readonly asks: boolean },
): TaskHandler<T> {
  return {
    kind: own.kind,
    mark: (task, take, options) => own.mark(task, take, options),
    plan(task, { hearings, practiceSec, question }) {
      const phrases = hearings ?? task.procedure.hearings;
      const steps: PlannedStep[] = [
        { does: 'hear', sheet: 'hearing', phrases, records: true },
        {
          does: 'prepare',
          named: 'practice',
          lengthSec: practiceSec ?? task.procedure.practiceSec,
          sheet: null,
          records: false,
        },
        { does: 'play', sheet: 'performance', passes: 1, longestSec: 0, records: true },
      ];
      if (own.asks) {
        const beats = countedBeats(task.phrase).length;
        steps.push({ does: 'ask', form: question, beats, records: false });
      }
      return { steps, bars: task.phrase.bars, hearings: phrases };
    },
    sounded: asSounded,
    sheet(task, name, options) {
      switch (name) {
        case 'hearing':
          return hearingSheet(task, options);
        case 'performance':
          return performanceSheet(task, options);
        case 'firstNote':
          return firstNoteSheet(task, options);
        case 'preparation':
          throw new RangeError(`a ${task.kind} test is prepared in silence`);
      }
    },
    target: (task) => phraseSheet(task),
    together: ['hearing', 'performance'],
    span: (task) => countedSpan(60 / task.tempoBpm, phraseSec(task)),
  };
}
