import type { Metre } from '../../../music/score.ts';
import { TICKS_PER_QUARTER } from '../../../music/units.ts';
import { swungTicks } from '../../../music/time.ts';
import { barTicks, beatLengths } from '../../../music/metre.ts';

/** One felt beat. Ticks from the first bar line. */
export interface Beat {
  readonly start: number;
  readonly length: number;
}

const SEMIQUAVER = TICKS_PER_QUARTER / 4;
const TRIPLET = TICKS_PER_QUARTER / 3;
/** Spread of the onsets of a practised player around the beat, 10–30 ms in tapping studies; 20 lies between. */
const SPREAD_SEC = 0.02;
/**
 * What a reading costs before a note of it was heard, in squared spreads: it must explain the onsets better by
 * so much. Two notes at the middle of a beat's thirds and quarters (40 ticks from either) differ by 2 · (40
 * ticks)², at 100 bpm 12.5: the costs lie well under that, and a steady quaver never becomes a triplet.
 */
const ODD_SEMIQUAVER_COST = 3;
const TRIPLET_COST = 5;
/** In swing, the last third of a beat is where its second quaver falls, so thirds are near anyway. */
const SWUNG_TRIPLET_COST = 2;
/** Two notes in one place: one of them cannot be written. */
const COLLISION_COST = 12;
/** A note this share of the way to the neighbouring place could as well stand there (0.5 = midway). */
const DOUBTFUL_SHARE = 0.35;

export function beatsOf(metre: Metre, bars: number): readonly Beat[] {
  const beats: Beat[] = [];
  for (let bar = 0; bar < bars; bar++) {
    let start = bar * barTicks(metre);
    for (const length of beatLengths(metre)) {
      beats.push({ start, length });
      start += length;
    }
  }
  return beats;
}

/** A way to divide a beat: semiquavers, or triplet quavers where a beat is a crotchet of a simple metre. */
export interface Grid {
  readonly unit: number;
  readonly triplet: boolean;
}

function gridsOf(metre: Metre, beat: Beat): readonly Grid[] {
  const even = { unit: SEMIQUAVER, triplet: false };
  return metre.beatUnit === 4 && beat.length === TICKS_PER_QUARTER
    ? [even, { unit: TRIPLET, triplet: true }]
    : [even];
}

/** A heard onset put on the grid. */
export interface Snapped {
  readonly ticks: number;
  readonly doubtful: boolean;
}

export interface GridReading {
  /** In the order of the onsets given. */
  readonly notes: readonly Snapped[];
  /** The grid of each beat. */
  readonly grids: readonly Grid[];
  /** Squared errors in spreads, and the costs of the readings chosen. */
  readonly cost: number;
}

function readBeat(
  onsets: readonly number[],
  beat: Beat,
  grid: Grid,
  swing: number,
  tickSec: number,
): { notes: Snapped[]; cost: number } {
  const slots = Array.from({ length: beat.length / grid.unit + 1 }, (_, i) => beat.start + i * grid.unit);
  const sounding = slots.map((slot) => swungTicks(slot, swing));
  let cost = grid.triplet ? (swing === 0.5 ? TRIPLET_COST : SWUNG_TRIPLET_COST) : 0;
  const taken = new Set<number>();
  const notes = onsets.map((onset): Snapped => {
    let best = 0;
    sounding.forEach((at, i) => {
      if (Math.abs(at - onset) < Math.abs(sounding[best]! - onset)) best = i;
    });
    const error = onset - sounding[best]!;
    cost += ((error * tickSec) / SPREAD_SEC) ** 2;
    if (!grid.triplet && best % 2 === 1) cost += ODD_SEMIQUAVER_COST;
    if (taken.has(best)) cost += COLLISION_COST;
    taken.add(best);
    const neighbour = sounding[best + Math.sign(error)];
    const room = neighbour === undefined ? grid.unit : Math.abs(neighbour - sounding[best]!);
    return { ticks: slots[best]!, doubtful: Math.abs(error) > DOUBTFUL_SHARE * room };
  });
  return { notes, cost };
}

/**
 * Puts onsets on the grid, each beat in semiquavers or in triplets, whichever costs less.
 * @param onsets in ticks (fractions allowed), rising; those before half a semiquaver ahead of beat 1 and from
 *   the last bar line on must have been left out.
 * @param tickSec length of a tick, seconds.
 */
export function readGrid(
  onsets: readonly number[],
  metre: Metre,
  bars: number,
  swing: number,
  tickSec: number,
): GridReading {
  const notes: Snapped[] = [];
  const grids: Grid[] = [];
  let cost = 0;
  let from = 0;
  for (const beat of beatsOf(metre, bars)) {
    let to = from;
    while (to < onsets.length && onsets[to]! < beat.start + beat.length - SEMIQUAVER / 2) to++;
    const own = onsets.slice(from, to);
    from = to;
    const readings = gridsOf(metre, beat).map((grid) => ({
      grid,
      ...readBeat(own, beat, grid, swing, tickSec),
    }));
    const best = readings.reduce((a, b) => (b.cost < a.cost ? b : a));
    // An empty beat says nothing; its grid is the plain one, at no cost.
    notes.push(...best.notes);
    grids.push(best.grid);
    cost += best.cost;
  }
  return { notes, grids, cost };
}
