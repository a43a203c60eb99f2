import type { HeardTake } from '../../../music/notes.ts';
import type { ScaleTask } from '../../../music/task.ts';
import { phraseSec } from '../../../music/time.ts';
import { findTake, markNotes, requestOf, type Mark } from '../../marks/index.ts';
import type { Half } from '../../procedure/index.ts';
import { alone, clickCues, clickFor, phraseCues, takeOver } from '../../sheets/index.ts';
import { countedSpan, OPEN_SPAN } from '../../take/index.ts';
import { halfPhrase } from '../heard/half.ts';
import { atTempo, preparedPlan } from '../prepared.ts';
import type { MarkOptions, TaskHandler } from '../types.ts';
import { factsOfScale, toldOfScale } from './facts.ts';

/** To think of the fingering: common practice is that a scale is begun within some seconds of its name. */
const RECALL_SEC = 20;

/** A scale that is named: some time to think of it, then from memory, to a click or when the player is ready. */
export const scale: TaskHandler<ScaleTask> = {
  kind: 'scale',
  plan({ phrase, tempoBpm, procedure: { click } }, { practiceSec }) {
    return preparedPlan({ phrase, tempoBpm }, click, {
      named: 'recall',
      lengthSec: practiceSec ?? RECALL_SEC,
      // The click gives the tempo, and over loudspeakers the room is learnt from it.
      sheet: click ? 'preparation' : null,
      records: click,
    });
  },
  sounded: (task, { tempoFactor, half = null }) => atTempo(half ? halfScale(task, half) : task, tempoFactor),
  sheet(task, name, options) {
    const sounded = scale.sounded(task, options);
    if (name === 'performance') return takeOver(sounded, clickCues, { voice: options.count ?? 'spoken' });
    if (name === 'preparation') return clickFor(sounded.phrase.metre, sounded.tempoBpm, RECALL_SEC);
    throw new RangeError(`a scale has no ${name}`);
  },
  target: (task) => alone(task, phraseCues),
  together: [],
  span: (task) => (task.procedure.click ? countedSpan(60 / task.tempoBpm, phraseSec(task)) : OPEN_SPAN),
  mark(task, take, options) {
    const refused = take.heard.verdict === 'refused';
    const mark =
      task.procedure.click || refused
        ? markNotes(task, take, { pitch: true, ...options })
        : findTake(requestAtOwnTempo(task, take, options)).mark;
    return withFacts(task, take, mark);
  },
};

const requestAtOwnTempo = (task: ScaleTask, take: HeardTake, options: MarkOptions = {}) => ({
  ...requestOf(task, take, { pitch: true, ...options }),
  clock: 'free' as const,
});

/** Half a scale, cut at a bar line. */
function halfScale(task: ScaleTask, half: Half): ScaleTask {
  const phrase = halfPhrase(task.phrase, half);
  const from = half === 'first' ? 0 : task.phrase.notes.length - phrase.notes.length;
  return { ...task, phrase, hands: task.hands.slice(from, from + phrase.notes.length) };
}

/** The mark with where the hands wait, how even, at which tempo, before all else that is said of it. */
function withFacts(task: ScaleTask, take: HeardTake, mark: Mark): Mark {
  const facts = factsOfScale(task, take, mark);
  if (facts === null) return mark;
  const { first, told, instead } = toldOfScale(facts);
  const rest = mark.readings.filter(({ code }) => !instead.includes(code));
  const readings = first ? [...told, ...rest] : [...rest, ...told];
  return { ...mark, readings, advice: readings[0] ?? mark.advice };
}
