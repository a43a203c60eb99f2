import type { Metre, PracticeTest } from '../../music/score.ts';
import { TICKS_PER_QUARTER, ticksToSec, type Sec } from '../../music/units.ts';
import { barTicks, beatLengths } from '../material/metre/metres.ts';

/** Ticks of one whole note divided by the metre's unit: a quaver in 6/8, a crotchet in 4/4. */
export const unitTicks = (metre: Metre): number => (4 * TICKS_PER_QUARTER) / metre.beatUnit;

/**
 * Where a bar is felt to beat, in ticks from its bar line: every unit where the unit is a crotchet or
 * longer, every group where it is a quaver or shorter (6/8 beats twice, 7/8 as 2+2+3 three times).
 * Common practice, no source.
 */
export function feltBeats(metre: Metre): readonly number[] {
  let at = 0;
  return beatLengths(metre).map((length) => {
    const here = at;
    at += length;
    return here;
  });
}

/**
 * Written ticks to the ticks at which they are played in swing: the off-beat quaver falls at `swing` of
 * its crotchet, what lies between is stretched evenly, and triplets stay where they are written.
 *
 * @param swing 0.5 (straight) … 0.75; 2/3 is triplet swing.
 */
export function swungTicks(written: number, swing: number): number {
  if (swing === 0.5) return written;
  const beat = Math.floor(written / TICKS_PER_QUARTER);
  const inside = written - beat * TICKS_PER_QUARTER;
  if ((inside * 3) % TICKS_PER_QUARTER === 0) return written;
  const share = inside / TICKS_PER_QUARTER;
  const swung = share <= 0.5 ? share * 2 * swing : swing + (share - 0.5) * 2 * (1 - swing);
  return (beat + swung) * TICKS_PER_QUARTER;
}

/** When a written instant of the test's phrase sounds, in seconds from the phrase's first bar line. */
export function performedSec(written: number, test: Pick<PracticeTest, 'tempoBpm' | 'swing'>): Sec {
  return ticksToSec(swungTicks(written, test.swing), test.tempoBpm);
}

/** Length of one bar in seconds. */
export const barSec = (test: Pick<PracticeTest, 'tempoBpm' | 'phrase'>): Sec =>
  ticksToSec(barTicks(test.phrase.metre), test.tempoBpm);
