import type { Chart } from '../../music/chart.ts';
import { barTicks } from '../../music/metre.ts';
import { chordScale } from '../material/charts/index.ts';
import { chordOver } from './harmony.ts';
import { beatTicks } from './place.ts';
import type { PlacedNote } from './types.ts';

export interface EndingFacts {
  /** What the last note is in its chord; null where nothing was played. */
  readonly on: 'root' | 'chord' | 'other' | null;
  /** Does it begin on a beat? */
  readonly onBeat: boolean;
  /** From its end to the last bar line, bars; 0 where it sounds to the end. */
  readonly barsBeforeEnd: number;
}

/** How a pass came to its end. */
export function endingFacts(chart: Chart, notes: readonly PlacedNote[]): EndingFacts {
  const bar = barTicks(chart.metre);
  const last = notes.at(-1);
  if (!last) return { on: null, onBeat: false, barsBeforeEnd: chart.bars };
  const tones = [...chordScale(chordOver(chart, last).symbol, chart.key).tones];
  const pc = last.note.midi % 12;
  return {
    on: tones[0] === pc ? 'root' : tones.includes(pc) ? 'chord' : 'other',
    onBeat: last.ticks % beatTicks(chart) === 0,
    barsBeforeEnd: Math.max(0, (bar * chart.bars - last.endTicks) / bar),
  };
}
