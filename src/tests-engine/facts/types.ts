import type { Chart } from '../../music/chart.ts';
import type { HeardNote } from '../../music/notes.ts';

/** A line played over a chart: one pass, times from its first bar line. */
export interface PlayedLine {
  readonly chart: Chart;
  readonly notes: readonly HeardNote[];
}

/** A note with the place it was meant for, as well as can be told. */
export interface PlacedNote {
  readonly note: HeardNote;
  /** Written ticks from the first bar line; swung quavers stand at the half. */
  readonly ticks: number;
  /** Played minus written, ms, on the chart's clock: late is positive. */
  readonly offMs: number;
  /** Ticks at which it stops sounding, at the latest where the next begins. */
  readonly endTicks: number;
}

/** A count out of a count, so that a share can be told with how little it stands on. */
export interface Share {
  readonly count: number;
  readonly of: number;
}

/** A place in the chart, both from 1. */
export interface Place {
  readonly bar: number;
  readonly beat: number;
}

export const share = (count: number, of: number): Share => ({ count, of });
/** 0…1, or null where there was nothing to count. */
export const ratio = ({ count, of }: Share): number | null => (of === 0 ? null : count / of);
