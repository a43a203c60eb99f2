import type { Metre, PracticeTest } from '../../score.ts';
import { TICKS_PER_QUARTER, sec, ticks, ticksToSec, type Sec, type Ticks } from '../../units.ts';

/** Ticks of one whole note divided by the metre's unit: a quaver in 6/8, a crotchet in 4/4. */
export const unitTicks = (metre: Metre): number => (4 * TICKS_PER_QUARTER) / metre.beatUnit;

/** Length of one bar. */
export const barTicks = (metre: Metre): Ticks => ticks(metre.beats * unitTicks(metre));

/**
 * Where a bar is felt to beat, in ticks from its bar line: every unit where the unit is a crotchet or
 * longer, every group where it is a quaver or shorter (6/8 beats twice, 7/8 as 2+2+3 three times).
 * Common practice, no source.
 */
export function feltBeats(metre: Metre): readonly number[] {
  const unit = unitTicks(metre);
  const groups = metre.beatUnit >= 8 ? groupsOf(metre) : Array<number>(metre.beats).fill(1);
  let at = 0;
  return groups.map((group) => {
    const here = at;
    at += group * unit;
    return here;
  });
}

/** The metre's groups; a grouping that does not add up to the bar is the caller's mistake. */
export function groupsOf(metre: Metre): readonly number[] {
  const sum = metre.grouping.reduce((a, b) => a + b, 0);
  if (sum !== metre.beats || metre.grouping.some((g) => !Number.isInteger(g) || g < 1))
    throw new RangeError(
      `the groups of ${metre.beats}/${metre.beatUnit} must be whole and add up to ${metre.beats}, got [${metre.grouping.join(', ')}]`,
    );
  return metre.grouping;
}

/**
 * Written ticks to the ticks at which they are played in swing: the off-beat quaver falls at `swing` of
 * its crotchet, what lies between is stretched evenly, and triplets stay where they are written.
 * Metres beaten in quavers are never swung.
 */
export function swungTicks(written: number, swing: number, metre: Metre): number {
  if (swing === 0.5 || metre.beatUnit >= 8) return written;
  const beat = Math.floor(written / TICKS_PER_QUARTER);
  const inside = written - beat * TICKS_PER_QUARTER;
  if ((inside * 3) % TICKS_PER_QUARTER === 0) return written;
  const share = inside / TICKS_PER_QUARTER;
  const swung = share <= 0.5 ? share * 2 * swing : swing + (share - 0.5) * 2 * (1 - swing);
  return (beat + swung) * TICKS_PER_QUARTER;
}

/** When a written instant of the test's phrase sounds, in seconds from the phrase's first bar line. */
export function performedSec(
  written: number,
  test: Pick<PracticeTest, 'tempoBpm' | 'swing' | 'phrase'>,
): Sec {
  return ticksToSec(swungTicks(written, test.swing, test.phrase.metre), test.tempoBpm);
}

/** Length of one bar in seconds. */
export const barSec = (test: Pick<PracticeTest, 'tempoBpm' | 'phrase'>): Sec =>
  sec(ticksToSec(barTicks(test.phrase.metre), test.tempoBpm));
