import type { Chart } from '../../music/chart.ts';
import { barTicks, feltBeats } from '../../music/metre.ts';
import { TICKS_PER_QUARTER, secToTicks, ticksToSec } from '../../music/units.ts';
import { middle } from '../../music/numbers.ts';
import type { Place, PlacedNote, PlayedLine } from './types.ts';

/** Where in a crotchet notes can be meant, as shares, with what believing in so fine a division costs. */
const GRIDS = [
  { at: [0], cost: 0 },
  { at: [0, 1 / 2], cost: 0.0015 },
  { at: [0, 2 / 3], cost: 0.003 },
  { at: [0, 1 / 3, 2 / 3], cost: 0.004 },
  { at: [0, 1 / 4, 1 / 2, 3 / 4], cost: 0.005 },
] as const;
/** In 6/8 a crotchet is no beat: quavers and their halves. */
const COMPOUND = [
  { at: [0, 1 / 2], cost: 0 },
  { at: [0, 1 / 4, 1 / 2, 3 / 4], cost: 0.004 },
] as const;
/** A note up to this far before a beat is meant for it; an eighth of a crotchet, half a semiquaver. */
const EARLY = 1 / 8;
/** How far a whole take may lie before or behind and still be put on its own grid, ms. */
const MOST_BIAS_MS = 80;

/** Is the note's beat of dotted crotchets, as in 6/8? */
const isCompound = ({ metre }: Chart): boolean => metre.beatUnit >= 8 && metre.grouping.every((g) => g === 3);

/**
 * Each note at the place that it was meant for (method ours): the whole take's own bias is taken out, then every crotchet takes
 * the plainest division on which its notes lie well (squared distances plus a price a division). In swing the
 * place at two thirds is written as the quaver that it stands for.
 */
export function placed({ chart, notes }: PlayedLine): PlacedNote[] {
  const first = place(chart, notes, 0);
  const bias = middle(first.map(({ offMs }) => offMs)) ?? 0;
  const moved = Math.max(-MOST_BIAS_MS, Math.min(MOST_BIAS_MS, bias));
  return place(chart, notes, moved);
}

function place(chart: Chart, notes: PlayedLine['notes'], biasMs: number): PlacedNote[] {
  const { tempoBpm } = chart;
  const crotchets = notes.map(
    ({ onsetSec }) => secToTicks(onsetSec - biasMs / 1000, tempoBpm) / TICKS_PER_QUARTER,
  );
  const written: number[] = [];
  const meant: number[] = [];
  for (let i = 0; i < notes.length;) {
    const beat = Math.floor(crotchets[i]! + EARLY);
    let end = i;
    while (end < notes.length && crotchets[end]! + EARLY < beat + 1) end++;
    const inside = crotchets.slice(i, end).map((at) => at - beat);
    const { at } = bestGrid(inside, chart);
    for (const share of inside) {
      const near = at.reduce((a, b) => (Math.abs(b - share) < Math.abs(a - share) ? b : a));
      const swung = chart.swing > 0.5 && near === 2 / 3 && !at.some((point) => point === 1 / 3);
      meant.push(beat + near);
      written.push(Math.round((beat + (swung ? 1 / 2 : near)) * TICKS_PER_QUARTER));
    }
    i = end;
  }
  return notes.map((note, i) => {
    const endTicks = secToTicks(note.offsetSec, tempoBpm);
    const next = written[i + 1];
    return {
      note,
      ticks: written[i]!,
      offMs: 1000 * (note.onsetSec - ticksToSec(meant[i]! * TICKS_PER_QUARTER, tempoBpm)),
      endTicks: Math.max(written[i]!, next === undefined ? endTicks : Math.min(endTicks, next)),
    };
  });
}

function bestGrid(inside: readonly number[], chart: Chart): { readonly at: readonly number[] } {
  let best: { readonly at: readonly number[] } = GRIDS[0];
  let least = Infinity;
  for (const grid of isCompound(chart) ? COMPOUND : GRIDS) {
    // A crotchet's next beat is no place of its own: notes come here from an eighth before the beat on.
    const used = inside.map((share) => Math.min(...grid.at.map((point) => (share - point) ** 2)));
    const twice = new Set(inside.map((share) => nearest(grid.at, share))).size < inside.length ? 0.05 : 0;
    const cost = used.reduce((a, b) => a + b, 0) + grid.cost + twice;
    if (cost < least) [best, least] = [grid, cost];
  }
  return best;
}

const nearest = (points: readonly number[], share: number): number =>
  points.reduce(
    (best, point, i) => (Math.abs(point - share) < Math.abs(points[best]! - share) ? i : best),
    0,
  );

/** Bar and felt beat (whole), from 1, of written ticks. */
export function placeOf({ metre }: Chart, ticks: number): Place {
  const bar = barTicks(metre);
  const inside = ((ticks % bar) + bar) % bar;
  return {
    bar: Math.floor(ticks / bar) + 1,
    beat: feltBeats(metre).findLastIndex((at) => at <= inside) + 1,
  };
}

/** Does a stressed beat (the first of a group of the metre) stand at these ticks? */
export function isStrong({ metre }: Chart, ticks: number): boolean {
  const bar = barTicks(metre);
  const unit = bar / metre.beats;
  let at = 0;
  const inside = ((ticks % bar) + bar) % bar;
  return metre.grouping.some((units) => {
    const here = at === inside;
    at += units * unit;
    return here;
  });
}

/** A felt beat's length, ticks: the mean of a bar's. */
export const beatTicks = ({ metre }: Chart): number => barTicks(metre) / feltBeats(metre).length;
