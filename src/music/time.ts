import { barTicks } from './metre.ts';
import type { Phrase } from './score.ts';
import { TICKS_PER_QUARTER, ticksToSec, type Bpm, type Sec } from './units.ts';

/** The pace at which written time passes: quarter notes a minute, and how far quavers swing. */
export interface Pace {
  readonly tempoBpm: Bpm;
  /** 0.5 = straight … 0.75; 2/3 is triplet swing. */
  readonly swing: number;
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

/** When a written instant sounds, in seconds from the first bar line. */
export function performedSec(written: number, pace: Pace): Sec {
  return ticksToSec(swungTicks(written, pace.swing), pace.tempoBpm);
}

/** Length of one bar in seconds. */
export const barSec = ({ tempoBpm, phrase }: { readonly tempoBpm: Bpm; readonly phrase: Phrase }): Sec =>
  ticksToSec(barTicks(phrase.metre), tempoBpm);

/** Length of a whole phrase in seconds. */
export const phraseSec = (timed: { readonly tempoBpm: Bpm; readonly phrase: Phrase }): number =>
  timed.phrase.bars * barSec(timed);
