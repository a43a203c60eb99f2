import type { Instrument } from '../../../music/score.ts';
import type { ReadingTask, Shows } from '../../../music/task.ts';
import { sec } from '../../../music/units.ts';
import { makePage } from '../../material/reading/index.ts';

/** Common practice, no source: 90 s to look at an unseen page. */
export const PREPARE_SEC = 90;

export interface ReadingRequest {
  /** 1…10 of the reading ladder. */
  readonly level: number;
  /** Unsigned 32-bit. */
  readonly seed: number;
  readonly instrument: Instrument;
  readonly tuning?: readonly number[];
  readonly shows?: Shows;
  readonly click?: boolean;
  readonly prepareClick?: boolean;
  /** 0…600. */
  readonly prepareSec?: number;
}

/** A page of one of our levels as a task. @throws RangeError naming the value and what is allowed */
export function makeReading(request: ReadingRequest): ReadingTask {
  const {
    level,
    seed,
    shows = 'staff',
    click = true,
    prepareClick = click,
    prepareSec = PREPARE_SEC,
  } = request;
  if (!(prepareSec >= 0 && prepareSec <= 600))
    throw new RangeError(`prepareSec must be 0…600 seconds, got ${prepareSec}`);
  const page = makePage(level, request);
  return {
    version: 1,
    kind: 'reading',
    ...page,
    level,
    seed,
    swing: 0.5,
    shows,
    procedure: { prepareSec: sec(prepareSec), prepareClick, click },
  };
}
