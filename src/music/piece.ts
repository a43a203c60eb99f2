import type { Metre, WrittenNote } from './score.ts';
import { swungTicks } from './time.ts';
import { TICKS_PER_QUARTER } from './units.ts';

/** One bar as it passes: repeats are written out, so that a bar of the page may come several times. */
export interface PieceBar {
  readonly startTicks: number;
  readonly durationTicks: number;
  /** Its number on the page, 0 for a pick-up. */
  readonly printed: number;
}

/** From `atTicks` on the tempo is `bpm` crotchets a minute. */
export interface TempoMark {
  readonly atTicks: number;
  readonly bpm: number;
}

/** What a piece is made of, as a file of notes tells it. */
export interface PiecePart {
  readonly title: string | null;
  /** Of the first bar. */
  readonly metre: Metre;
  /** Key signature; null where the file names none. */
  readonly fifths: number | null;
  readonly minor: boolean;
  readonly bars: readonly PieceBar[];
  /** In order of start, then from low to high: notes that begin together are a chord. */
  readonly notes: readonly WrittenNote[];
  /** In order, the first at tick 0; empty where the file names none. */
  readonly tempi: readonly TempoMark[];
  /** 0.5 = straight; 2/3 = triplet swing of the quavers. */
  readonly swing: number;
}

/** The recording under a piece. Its samples stay with whoever brought it: this says where its music lies. */
export interface PieceTrack {
  /** 32 hex digits of its bytes' SHA-256: what tells that a file brought again is the same. */
  readonly id: string;
  readonly name: string;
  readonly durationSec: number;
  /** Where bar 1 (the first of `bars`, a pick-up's whole bar) begins in it; before its start where negative. */
  readonly barOneSec: number;
  /** Its tempo at bar 1, crotchets a minute; the task's own is another one where it is played slower. */
  readonly bpm: number;
}

/** Bars to be played, counted from 0 as they pass; `to` is the first that is not. */
export interface PiecePassage {
  readonly from: number;
  readonly to: number;
}

/** Times of ticks under a map of tempi, both ways. */
export interface TempoMap {
  /** Seconds from tick 0; before it at the first tempo. */
  secAt(ticks: number): number;
  ticksAt(sec: number): number;
  bpmAt(ticks: number): number;
}

/** @throws RangeError for a map that does not begin at tick 0, or is out of order */
export function tempoMap(tempi: readonly TempoMark[]): TempoMap {
  if (tempi[0]?.atTicks !== 0)
    throw new RangeError(`a map of tempi begins at tick 0, got ${tempi[0]?.atTicks}`);
  const starts = [0];
  for (let k = 1; k < tempi.length; k++) {
    const length = tempi[k]!.atTicks - tempi[k - 1]!.atTicks;
    if (!(length > 0)) throw new RangeError(`tempo ${k} does not come after the one before it`);
    starts.push(starts[k - 1]! + (length / TICKS_PER_QUARTER) * (60 / tempi[k - 1]!.bpm));
  }
  const at = (over: (k: number) => boolean): number => {
    let k = tempi.length - 1;
    while (k > 0 && !over(k)) k--;
    return k;
  };
  const of = (ticks: number): number => at((k) => tempi[k]!.atTicks <= ticks);
  return {
    secAt(ticks) {
      const k = of(ticks);
      const { atTicks, bpm } = tempi[k]!;
      return starts[k]! + ((ticks - atTicks) / TICKS_PER_QUARTER) * (60 / bpm);
    },
    ticksAt(sec) {
      const k = at((n) => starts[n]! <= sec);
      const { atTicks, bpm } = tempi[k]!;
      return atTicks + (sec - starts[k]!) * (bpm / 60) * TICKS_PER_QUARTER;
    },
    bpmAt: (ticks) => tempi[of(ticks)]!.bpm,
  };
}

/** A written note's onset in seconds from tick 0, in the piece's swing. */
export const swungSec = (map: TempoMap, ticks: number, swing: number): number =>
  map.secAt(swungTicks(ticks, swing));

/** Do any two notes begin together? Then it is a part with chords, else a single line. */
export const hasChords = (notes: readonly { readonly startTicks: number }[]): boolean =>
  notes.some((note, i) => i > 0 && note.startTicks === notes[i - 1]!.startTicks);

/** The bar in which a tick lies, counted from 0. */
export function barAt(bars: readonly PieceBar[], ticks: number): number {
  let low = 0;
  let high = bars.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (bars[middle]!.startTicks <= ticks) low = middle;
    else high = middle - 1;
  }
  return low;
}
