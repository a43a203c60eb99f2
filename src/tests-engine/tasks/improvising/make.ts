import type { Instrument } from '../../../music/score.ts';
import type { ImprovisingTask, Improvises } from '../../../music/task.ts';
import { midi, sec } from '../../../music/units.ts';
import { makeChart, standardTuning, type ChartRequest } from '../../material/index.ts';

/** Common practice, no source: 30 s to look at a chart. */
export const CHART_SEC = 30;

export interface ImprovisingRequest extends ChartRequest {
  readonly instrument: Instrument;
  readonly tuning?: readonly number[];
  readonly plays?: Improvises;
  /** 0…600. */
  readonly prepareSec?: number;
  readonly prepareClick?: boolean;
}

/** A chart of one of our levels as a task. @throws RangeError naming the value and what is allowed */
export function makeImprovising(request: ImprovisingRequest): ImprovisingTask {
  const { instrument, tuning, plays = 'line', prepareSec = CHART_SEC, prepareClick = false } = request;
  if (!(prepareSec >= 0 && prepareSec <= 600))
    throw new RangeError(`prepareSec must be 0…600 seconds, got ${prepareSec}`);
  const { chords, bars, metre, ...sounding } = makeChart(request);
  return {
    version: 1,
    kind: 'improvising',
    instrument,
    tuning: (tuning ?? standardTuning(instrument).strings).map(midi),
    level: request.level,
    seed: request.seed,
    ...sounding,
    phrase: { metre, bars, notes: [] },
    chart: chords,
    plays,
    procedure: { prepareSec: sec(prepareSec), prepareClick },
  };
}
