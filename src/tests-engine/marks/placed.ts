import type { Alignment } from './align.ts';
import type { Frame } from './cost.ts';

/** Written and played notes as lists: onsets `t`, `s` in seconds, ascending; pitches `p`, `q` in MIDI numbers, NaN: none. */
export interface Lists {
  readonly t: Float64Array;
  readonly p: Float64Array;
  readonly s: Float64Array;
  readonly q: Float64Array;
}
export type Limits = Omit<Frame, 't' | 'p' | 's' | 'q'>;

/** Written and played notes placed on each other: played time = start + rate x written time; played pitch = written pitch + shift. */
export interface Reading extends Alignment {
  readonly start: number;
  readonly rate: number;
  readonly shift: number;
  readonly frame: Frame;
  /** Points, of its cost, for lying beside the take's own centre (`backing.ts`); 0 at one's own tempo. */
  readonly toll: number;
  /** Own tempo: the one straight tempo that fits best, on the frame's clock; null on the backing. */
  readonly straight: Line | null;
}

/** One straight tempo through the answered notes: played = start + rate x due, on the reading's own clock. */
export interface Line {
  readonly start: number;
  readonly rate: number;
}
