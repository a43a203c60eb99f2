import type { Chart } from '../../music/chart.ts';
import { barTicks } from '../../music/metre.ts';
import { ticksToSec } from '../../music/units.ts';
import { beatTicks, placeOf } from './place.ts';
import type { Place, PlacedNote } from './types.ts';

export interface PlayedPhrase {
  /** Indices of its first note and of the one after its last. */
  readonly from: number;
  readonly to: number;
  readonly begins: Place;
  /** From its first onset to its last note's end, felt beats. */
  readonly beats: number;
  /** Does it begin on a beat, or between? */
  readonly onBeat: boolean;
}

export interface PhraseFacts {
  readonly phrases: readonly PlayedPhrase[];
  /** Rests between them, felt beats. */
  readonly rests: readonly number[];
  /** Stops inside the playing: more than a bar from note to note and most of it silent. Where they begin. */
  readonly stops: readonly { readonly place: Place; readonly beats: number }[];
  /** Bars in which at least one note begins, of all. */
  readonly barsPlayed: number;
  readonly bars: number;
}

/** A rest parts phrases from a beat on, but not under this time: at a high tempo a beat is only a breath. */
const SHORTEST_REST_SEC = 0.35;
/** A bar and near half a beat from onset to onset; a string that rings on hides up to two fifths of the bar's silence. */
const STOP = { beyondBarBeats: 0.4, silentShare: 0.6 } as const;

/**
 * Phrases are parted by rests of a beat or more (the proximity rule of F. Lerdahl and R. Jackendoff, A Generative Theory of
 * Tonal Music, 1983, GPR 2a; the length of the rest is ours), or by two bars from one onset to the next.
 */
export function phraseFacts(chart: Chart, notes: readonly PlacedNote[]): PhraseFacts {
  const [beat, bar] = [beatTicks(chart), barTicks(chart.metre)];
  const rest = (i: number): number => notes[i + 1]!.ticks - notes[i]!.endTicks;
  const parts = (i: number): boolean =>
    (rest(i) >= 0.9 * beat && ticksToSec(rest(i), chart.tempoBpm) >= SHORTEST_REST_SEC) ||
    notes[i + 1]!.ticks - notes[i]!.ticks >= 2 * bar;
  const starts = [0, ...notes.slice(0, -1).flatMap((_, i) => (parts(i) ? [i + 1] : []))];
  const phrases = (notes.length === 0 ? [] : starts).map((from, k): PlayedPhrase => {
    const to = starts[k + 1] ?? notes.length;
    const [first, last] = [notes[from]!, notes[to - 1]!];
    return {
      from,
      to,
      begins: placeOf(chart, first.ticks),
      beats: (last.endTicks - first.ticks) / beat,
      onBeat: first.ticks % beat === 0,
    };
  });
  const between = phrases.slice(0, -1).map(({ to }) => ({ after: to - 1, beats: rest(to - 1) / beat }));
  const begun = new Set(notes.map(({ ticks }) => Math.floor(ticks / bar)));
  return {
    phrases,
    rests: between.map(({ beats }) => beats),
    stops: between
      .filter(({ after, beats }) => {
        const apart = notes[after + 1]!.ticks - notes[after]!.ticks;
        return apart >= bar + STOP.beyondBarBeats * beat && beats * beat >= STOP.silentShare * bar;
      })
      .map(({ after, beats }) => ({
        place: placeOf(chart, Math.ceil(notes[after]!.endTicks / beat) * beat),
        beats,
      })),
    barsPlayed: [...begun].filter((k) => k >= 0 && k < chart.bars).length,
    bars: chart.bars,
  };
}
