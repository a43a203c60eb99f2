import type { Metre } from '../../../music/score.ts';
import { bpm, TICKS_PER_QUARTER, type Bpm } from '../../../music/units.ts';
import { barTicks } from '../../../music/metre.ts';
import { readGrid } from './grid.ts';

/** Tempi that are looked at, crotchets a minute. */
const SLOWEST = 45;
const FASTEST = 180;
/** Fine enough that over eight beats at any tempo the last onset moves by less than a semiquaver's third. */
const STEP_RATIO = 1.01;
/** Tempi are felt near 90–120; an octave away costs as much as an onset three spreads off its place. */
const USUAL_BPM = 96;
const OCTAVE_COST = 9;

/**
 * The tempo at which the onsets lie best on the grid, the first onset being beat 1; refined by least squares.
 * @param onsetsSec rising, at least two, the first at 0. @throws RangeError for fewer.
 */
export function estimateTempo(onsetsSec: readonly number[], metre: Metre, swing: number): Bpm {
  if (onsetsSec.length < 2)
    throw new RangeError(`a tempo needs at least two onsets, got ${onsetsSec.length}`);
  const last = onsetsSec[onsetsSec.length - 1]!;
  let best = { cost: Infinity, tempo: USUAL_BPM, notes: [] as readonly number[] };
  for (let tempo = SLOWEST; tempo <= FASTEST; tempo *= STEP_RATIO) {
    const tickSec = 60 / tempo / TICKS_PER_QUARTER;
    const bars = Math.floor((last / tickSec + TICKS_PER_QUARTER) / barTicks(metre)) + 1;
    const reading = readGrid(
      onsetsSec.map((onset) => onset / tickSec),
      metre,
      bars,
      swing,
      tickSec,
    );
    const cost = reading.cost + OCTAVE_COST * Math.log2(tempo / USUAL_BPM) ** 2;
    if (cost < best.cost) best = { cost, tempo, notes: reading.notes.map((note) => note.ticks) };
  }
  // Least squares through the onsets: seconds = a + b · ticks.
  const n = best.notes.length;
  const meanT = best.notes.reduce((sum, t) => sum + t, 0) / n;
  const meanS = onsetsSec.reduce((sum, s) => sum + s, 0) / n;
  let above = 0;
  let below = 0;
  best.notes.forEach((t, i) => {
    above += (t - meanT) * (onsetsSec[i]! - meanS);
    below += (t - meanT) ** 2;
  });
  const slope = below > 0 ? above / below : 0;
  const refined = slope > 0 ? 60 / (slope * TICKS_PER_QUARTER) : best.tempo;
  return bpm(Math.min(FASTEST, Math.max(SLOWEST, Math.round(refined))));
}
