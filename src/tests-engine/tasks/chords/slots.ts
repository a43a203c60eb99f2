import { barTicks } from '../../../music/metre.ts';
import type { ChordTest } from '../../../music/chords/index.ts';
import { ticksToSec } from '../../../music/units.ts';

/**
 * Chords that are named one by one come so many bars after one another, however soon each is struck: time to hear the name, to
 * find the shape and to let it ring, without a hand off the strings. Common practice, no source: some 6.7 s at 72 bpm.
 */
export const NAMED_BARS = 2;

/** Are they due in time, or named one by one? */
export const isTimed = ({ chords }: ChordTest): boolean => chords[0]!.startTicks !== null;

/** From one name to the next, s. */
export const slotSec = ({ metre, tempoBpm }: ChordTest): number =>
  ticksToSec(NAMED_BARS * barTicks(metre), tempoBpm);

/** Bars of a take. */
export const barsOf = (test: ChordTest): number =>
  isTimed(test) ? test.bars : NAMED_BARS * test.chords.length;

/** Length of a bar, s. */
export const barSecOf = ({ metre, tempoBpm }: ChordTest): number => ticksToSec(barTicks(metre), tempoBpm);

/** Beat 1 to the last bar line, s. */
export const takeSec = (test: ChordTest): number =>
  ticksToSec(barsOf(test) * barTicks(test.metre), test.tempoBpm);

/** When each chord's name, or its stroke, falls: seconds from beat 1. */
export const chordsAtSec = (test: ChordTest): number[] =>
  test.chords.map(({ startTicks }, i) =>
    startTicks === null ? i * slotSec(test) : ticksToSec(startTicks, test.tempoBpm),
  );

/** Index of the chord that is asked for at a time of the take; −1 before the first. */
export const chordAt = (test: ChordTest, atSec: number): number =>
  chordsAtSec(test).findLastIndex((from) => from <= atSec);
