import { feltBeats } from '../../../music/metre.ts';
import type { HeardTake } from '../../../music/notes.ts';
import type { ReadingTask } from '../../../music/task.ts';
import { phraseSec } from '../../../music/time.ts';
import { findTake, markNotes, readingPlaces, requestOf, type Mark } from '../../marks/index.ts';
import { alone, clickCues, clickFor, phraseCues, takeOver } from '../../sheets/index.ts';
import { countedSpan, OPEN_SPAN } from '../../take/index.ts';
import { atTempo, preparedPlan } from '../prepared.ts';
import type { MarkOptions, TaskHandler } from '../types.ts';
import { halfPage } from './half.ts';
import { placeFacts } from './places.ts';

/** Unseen music: a time to look at it, then played once, to a click or at one's own tempo when ready. */
export const reading: TaskHandler<ReadingTask> = {
  kind: 'reading',
  plan({ phrase, tempoBpm, procedure }, { practiceSec }) {
    const { click, prepareClick, prepareSec } = procedure;
    return preparedPlan({ phrase, tempoBpm }, click, {
      named: 'read',
      lengthSec: practiceSec ?? prepareSec,
      sheet: prepareClick ? 'preparation' : null,
      // Over loudspeakers the room is learnt from the click of the preparation.
      records: prepareClick,
    });
  },
  sounded: (task, { tempoFactor, half = null }) => atTempo(half ? halfPage(task, half) : task, tempoFactor),
  sheet(task, name, options) {
    const sounded = reading.sounded(task, options);
    if (name === 'performance') return takeOver(sounded, clickCues, { voice: options.count ?? 'spoken' });
    if (name === 'preparation')
      return clickFor(sounded.phrase.metre, sounded.tempoBpm, task.procedure.prepareSec);
    throw new RangeError(`a page to read has no ${name}`);
  },
  target: (task) => alone(task, phraseCues),
  together: [],
  span: (task) => (task.procedure.click ? countedSpan(60 / task.tempoBpm, phraseSec(task)) : OPEN_SPAN),
  mark(task, take, options) {
    const refused = take.heard.verdict === 'refused';
    if (task.procedure.click || refused)
      return withPlaces(task, take, markNotes(task, take, { pitch: true, ...options }));
    return withPlaces(task, take, findTake(requestAtOwnTempo(task, take, options)).mark);
  },
};

const requestAtOwnTempo = (task: ReadingTask, take: HeardTake, options: MarkOptions = {}) => ({
  ...requestOf(task, take, { pitch: true, ...options }),
  clock: 'free' as const,
});

/** The mark with what happened where on the page before all else that is said of it, each thing once. */
function withPlaces(task: ReadingTask, take: HeardTake, mark: Mark): Mark {
  if (mark.mark === null) return mark;
  const { bars, metre } = task.phrase;
  const { target, played, beatSec = 0.5, beatsPerBar = 4 } = requestOf(task, take, { pitch: true });
  const feltBeatSec = (beatSec * beatsPerBar) / feltBeats(metre).length;
  const events = readingPlaces({ target, played, mark, beatSec, beatsPerBar, feltBeatSec, bars });
  const told = placeFacts(events, task.phrase);
  const codes = new Set(told.map(({ code }) => code));
  const rest = mark.readings.filter(({ code }) => !codes.has(code));
  const readings = [...told, ...rest];
  return { ...mark, readings, advice: readings[0] ?? mark.advice };
}
