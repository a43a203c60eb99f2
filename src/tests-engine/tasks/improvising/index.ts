import type { Cue, PracticeTest } from '../../../music/score.ts';
import type { ImprovisingTask } from '../../../music/task.ts';
import { phraseSec } from '../../../music/time.ts';
import { backingCues } from '../../backing/index.ts';
import {
  askedOver,
  factList,
  improvisedFacts,
  sentences,
  strokeFacts,
  strokeList,
  strokeSentences,
} from '../../facts/index.ts';
import type { Description } from '../../marks/index.ts';
import { alone, clickFor, takeOver } from '../../sheets/index.ts';
import { countedSpan } from '../../take/index.ts';
import { atTempo } from '../prepared.ts';
import type { TaskHandler } from '../types.ts';
import { chartOf, PASSES } from './chart.ts';

/** Raise it whenever the same take could be told otherwise. */
export const FACTS_VERSION = 2;

/** The backing: everything under a line; drums and bass alone where the player is the one who plays the chords. */
function chartCues(task: ImprovisingTask, fromSec: number): readonly Cue[] {
  const { chart, plays, procedure, ...written } = task;
  const accompanied: PracticeTest = {
    ...written,
    kind: 'melody',
    question: null,
    backing: { arranger: 2, chords: chart },
    procedure: { hearings: 1, practiceSec: procedure.prepareSec },
  };
  const cues = backingCues(accompanied, fromSec);
  return plays === 'line' ? cues : cues.filter((cue) => cue.type !== 'note' || cue.voice === 'bass');
}

/** A chart: a short time to look at it, then its backing twice without a break; told in facts, never graded. */
export const improvising: TaskHandler<ImprovisingTask> = {
  kind: 'improvising',
  plan({ phrase, procedure: { prepareClick, prepareSec } }, { practiceSec }) {
    return {
      steps: [
        {
          does: 'prepare',
          named: 'chart',
          lengthSec: practiceSec ?? prepareSec,
          sheet: prepareClick ? 'preparation' : null,
          records: false,
        },
        { does: 'play', sheet: 'performance', passes: PASSES, longestSec: 0, records: true },
      ],
      bars: phrase.bars,
      hearings: 1,
    };
  },
  /** A chart is not taken by halves: its form is what is played over. */
  sounded: (task, { tempoFactor }) => atTempo(task, tempoFactor),
  sheet(task, name, options) {
    const sounded = improvising.sounded(task, options);
    if (name === 'performance')
      return takeOver(sounded, chartCues, { voice: options.count ?? 'spoken', passes: PASSES });
    if (name === 'preparation')
      return clickFor(sounded.phrase.metre, sounded.tempoBpm, task.procedure.prepareSec);
    throw new RangeError(`a chart to improvise over has no ${name}`);
  },
  target: (task) => alone(task, chartCues),
  together: [],
  // The practice pass lies before it: its sound is kept, and nothing is told of it.
  span: (task) => countedSpan(60 / task.tempoBpm, phraseSec(task)),
  // Strokes are free in time: what stands there is asked of each, nothing is due.
  chords: (task) =>
    task.plays === 'chords'
      ? { asked: askedOver(chartOf(task), task.tuning), expectedSec: [], driven: null, free: true }
      : undefined,
  mark(task, { notes, heard, strums }): Description {
    const common = {
      type: 'described',
      version: FACTS_VERSION,
      mark: null,
      range: null,
      outcome: null,
    } as const;
    const told = (some: Pick<Description, 'reason' | 'facts' | 'readings' | 'advice'>): Description => ({
      ...common,
      ...some,
    });
    const refused = heard.verdict === 'refused';
    if (refused && heard.reason !== 'silence' && heard.reason !== 'backing-only')
      return told({
        reason: heard.reason,
        facts: [],
        readings: [],
        advice: { code: 'not-heard', values: {} },
      });
    if (task.plays === 'chords' && strums) {
      const strokes = strokeFacts({ chart: chartOf(task), strums: refused ? [] : strums });
      const said = strokeSentences(strokes);
      return told({
        reason: refused ? heard.reason : 'described',
        facts: strokeList(strokes),
        readings: said,
        advice: said.at(-1)!,
      });
    }
    // A take that the ear for single notes heard is kept to be heard again.
    if (task.plays === 'chords' && !refused) {
      const kept = { code: 'chords-kept', values: {} };
      return told({ reason: 'described', facts: [], readings: [kept], advice: kept });
    }
    const line = { chart: chartOf(task), notes: refused ? [] : notes };
    const facts = improvisedFacts(line);
    const said = sentences(facts);
    return told({
      reason: refused ? heard.reason : 'described',
      facts: factList(facts),
      readings: said,
      advice: said.at(-1)!,
    });
  },
};
