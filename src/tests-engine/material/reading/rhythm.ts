import { type Figure, figure, figureTicks } from '../levels/figures.ts';
import { METRES, type MetreName, beatLengths } from '../../../music/metre.ts';
import type { Random } from '../random/random.ts';
import type { ReadingLevel } from './types.ts';

/** One written event of a bar; `held` is tied over from the note before. */
export interface BarEvent {
  readonly ticks: number;
  readonly kind: 'note' | 'rest' | 'held';
}
/** One bar's rhythm, and the figures it was made of. */
export interface BarRhythm {
  readonly events: readonly BarEvent[];
  readonly figures: readonly string[];
}

const eventsOf = (it: Figure): BarEvent[] =>
  it.parts.map((part, i) => ({
    ticks: Math.abs(part),
    kind: part < 0 ? 'rest' : it.held && i === 0 ? 'held' : 'note',
  }));

interface Filling {
  readonly level: ReadingLevel;
  readonly metre: MetreName;
  readonly random: Random;
}

/**
 * Is a figure over beats `beat`…`next` written with a tie, in a level that has none yet? One of several notes over the
 * middle of a bar of four shows it (a single note may stand there, as in crotchet, minim, crotchet: Gould, Behind Bars,
 * 2011, "Grouping of durations", from memory).
 */
const tiedInside = (f: Filling, it: Figure, beat: number, next: number): boolean =>
  !f.level.tiesOverBars && f.metre === '4/4' && it.parts.length > 1 && beat < 2 && next > 2;

/** Figures for beats `from`…`until` of a bar, drawn one after another; a tie comes out of a sounding note only. */
function fill(
  f: Filling,
  from: number,
  until: number,
  tiedInto: boolean,
): { figures: Figure[]; events: BarEvent[] } {
  const beats = beatLengths(METRES[f.metre]);
  const unequal = new Set(beats).size > 1;
  const figures: Figure[] = [];
  const events: BarEvent[] = [];
  for (let beat = from; beat < until;) {
    const before = events.at(-1)?.kind;
    const sounds = before === undefined ? tiedInto : before !== 'rest';
    const fitting = f.level.figures.map(figure).flatMap((it) => {
      if (it.held && !sounds) return [];
      let [covered, next] = [0, beat];
      while (covered < figureTicks(it) && next < until) covered += beats[next++]!;
      if (tiedInside(f, it, beat, next)) return [];
      return covered === figureTicks(it) && !(unequal && next > beat + 1) ? [{ it, next }] : [];
    });
    if (fitting.length === 0)
      throw new RangeError(
        `no figure of reading level "${f.level.name}" fills beat ${beat + 1} of ${f.metre}`,
      );
    const { it, next } = f.random.pick(fitting);
    figures.push(it);
    events.push(...eventsOf(it));
    beat = next;
  }
  return { figures, events };
}

/** A bar of figures with two notes or more. @param first the page's first bar: it begins on a note. */
export function drawBar(f: Filling, tiedInto: boolean, first: boolean): BarRhythm {
  const beats = beatLengths(METRES[f.metre]).length;
  for (;;) {
    const { figures, events } = fill(f, 0, beats, tiedInto);
    if (first && events[0]!.kind !== 'note') continue;
    if (events.filter(({ kind }) => kind === 'note').length >= 2)
      return { events, figures: figures.map(({ id }) => id) };
  }
}

/** Longest last note of a phrase: a semibreve. */
const LONGEST = 1920;

/**
 * A bar that ends a phrase: figures, then one note as long as what is left; inside a page now and then followed by a
 * rest of a beat, in which the hand may move and the eye look on.
 */
export function drawCadence(f: Filling, breathe: boolean): BarRhythm {
  const beats = beatLengths(METRES[f.metre]);
  const at = f.random.below(Math.max(1, beats.length - 1));
  const from = at === 0 && beats.reduce((sum, ticks) => sum + ticks, 0) > LONGEST ? 1 : at;
  const { figures, events } = from > 0 ? fill(f, 0, from, false) : { figures: [], events: [] };
  const rest = breathe && beats.length - from >= 2 ? beats.at(-1)! : 0;
  const left = beats.slice(from).reduce((sum, ticks) => sum + ticks, 0) - rest;
  return {
    events: [
      ...events,
      { ticks: left, kind: 'note' },
      ...(rest > 0 ? [{ ticks: rest, kind: 'rest' } as const] : []),
    ],
    figures: figures.map(({ id }) => id),
  };
}

/** Is a bar's last event a sounding one, so that the next may begin with a tie? */
export const soundsOn = (bar: BarRhythm): boolean => bar.events.at(-1)!.kind !== 'rest';
export const beginsTied = (bar: BarRhythm): boolean => bar.events[0]!.kind === 'held';
