import { roomFor, systemsFor, type Piece } from './layout.ts';

/** How a page of music is broken and how large it is. */
export interface PagePlan {
  readonly scale: number;
  /** Bars on a line. */
  readonly perLine: number;
}

/** What a page may take, CSS px. */
export interface PageRoom {
  readonly width: number;
  readonly height: number;
  /** A line of music at scale 1. */
  readonly line: number;
  /** The narrowest bar at scale 1. */
  readonly bar: number;
  /** The largest scale. */
  readonly most: number;
}

/** The least width of a bar that gives this many to a line, and not one fewer for a rounding. */
export const barWidthFor = (width: number, perLine: number): number => width / (perLine + 0.01);

/** Every number of bars to a line, with the scale at which `shown` lines have room (all of them when absent). */
function plansFor(piece: Piece, { width, height, line, bar, most }: PageRoom, shown?: number): PagePlan[] {
  const { bars } = piece.phrase;
  return Array.from({ length: bars }, (_, i): PagePlan => {
    const perLine = bars - i;
    const ranges = systemsFor(bars, width, barWidthFor(width, perLine));
    const lines = Math.min(ranges.length, shown ?? ranges.length);
    const clear = piece.signs ? roomFor(piece, ranges, width) : most;
    return { perLine, scale: Math.min(most, height / (lines * line), clear, width / (perLine * bar)) };
  });
}

/** The largest of them; of several alike the one with the fewest lines. */
const largest = (plans: readonly PagePlan[]): PagePlan =>
  plans.reduce((a, b) => (b.scale > a.scale + 1e-9 ? b : a));

/** The largest that the whole page can be, with as few lines as that allows; null where it is under `least`. */
export function wholePage(piece: Piece, room: PageRoom, least: number): PagePlan | null {
  const best = largest(plansFor(piece, room));
  return best.scale < least ? null : best;
}

/** A page by whole lines, and how many of them are in view. */
export interface LinesPlan extends PagePlan {
  readonly inView: number;
}

/**
 * A page by whole lines: as many bars to a line as stand clear at `least`, with two lines in view, or with one where two
 * would be smaller; where neither is to be had, the largest of two.
 */
export function pageByLines(piece: Piece, room: PageRoom, least: number): LinesPlan {
  const two = plansFor(piece, room, 2);
  for (const [inView, plans] of [[2, two] as const, [1, plansFor(piece, room, 1)] as const]) {
    const clear = plans.find(({ scale }) => scale >= least);
    if (clear) return { ...clear, inView };
  }
  return { ...largest(two), inView: 2 };
}
