import type { RhythmFigure } from './figure.ts';
import { fifthsOf, notate, writtenAccidentals, type Sign } from '../../notation/index.ts';
import type { HandPosition, PageSign } from '../../music/task.ts';
import type { Instrument, Key, Phrase } from '../../music/score.ts';

/** What is engraved; `signs: false` leaves the bars empty (the answer is not shown before the take). */
export interface Piece {
  readonly phrase: Phrase;
  readonly key: Key;
  readonly instrument: Instrument;
  readonly strings: number;
  /** TAB with the lowest string on top. */
  readonly mirrored?: boolean;
  readonly tempoBpm: number;
  /** 0.5 = straight. */
  readonly swing: number;
  /** What stands above the staff when quavers swing. */
  readonly swingWords: string;
  readonly signs: boolean;
  /** Whether tempo and swing stand above the first bar. */
  readonly heading: boolean;
  readonly tab: boolean;
  /** The first note alone, as a head without a value: it is given, how long it lasts is part of the answer. */
  readonly given?: boolean;
  /** Chord names over the staff, each where it begins; they tell of the answer, so they are not given before a take. */
  readonly chords?: readonly ChordName[];
  /** On one line, without clef and key: a rhythm whose pitches are not asked. */
  readonly oneLine?: boolean;
  /** Dynamics and articulation of a page to read, and where the hand goes. */
  readonly pageSigns?: readonly PageSign[];
  readonly positions?: readonly HandPosition[];
  /** Another phrase of the same bars whose notes share the columns and are not drawn: its beats stand at the same x. */
  readonly beside?: Phrase;
  /** The other phrase stands first: columns are spaced by the first voice, so both must name the same one. */
  readonly besideFirst?: boolean;
}

/** A chord as it is printed: "B♭m7". */
export interface ChordName {
  readonly atTicks: number;
  readonly name: string;
}

/** The bars of one line of music, first to before-last. */
export interface SystemRange {
  readonly firstBar: number;
  readonly endBar: number;
}

/** Where a bar's music lies, CSS pixels from the system's left edge. */
export interface BarPlace {
  readonly bar: number;
  readonly startTicks: number;
  readonly endTicks: number;
  /** Where the first note of the bar may stand. */
  readonly startX: number;
  readonly endX: number;
}

/** Where a written note's first sign stands: the middle of its head. */
export interface NotePlace {
  readonly noteIndex: number;
  readonly startTicks: number;
  readonly x: number;
}

export interface Lines {
  readonly topY: number;
  readonly gap: number;
}

/** One line of music as drawn. */
export interface EngravedSystem {
  readonly width: number;
  readonly height: number;
  /** Top and bottom line of staff and TAB together, for the hairline. */
  readonly topY: number;
  readonly bottomY: number;
  /** Lines of the staff, and of the TAB where there is one: y of the top line and from line to line. */
  readonly staff: Lines;
  readonly tab: Lines | null;
  readonly bars: readonly BarPlace[];
  readonly notes: readonly NotePlace[];
}

/**
 * How the bars break into lines: as many to a line as keep a bar at least `minBarWidth` wide, in equal
 * lines where the count allows (4 bars never stand as 3 + 1).
 */
export function systemsFor(bars: number, width: number, minBarWidth: number): SystemRange[] {
  const most = Math.max(1, Math.floor(width / minBarWidth));
  const lines = Math.ceil(bars / most);
  const perLine = Math.ceil(bars / lines);
  return Array.from({ length: Math.ceil(bars / perLine) }, (_, line) => ({
    firstBar: line * perLine,
    endBar: Math.min(bars, (line + 1) * perLine),
  }));
}

/** Clef, signatures and their air; a column with its ledger lines; an accidental; a dot; a fret of two figures. At scale 1, px. */
const ROOM = { head: 100, sign: 22, accidental: 9, brackets: 8, dot: 4, wideFret: 6 };
/** Staff lines 7 px apart: smaller is not read from a music stand. */
const LEAST_SCALE = 0.7;

/**
 * The lines of a piece: as {@link systemsFor} breaks them, or with fewer bars to a line where the fullest would otherwise
 * run into the next even at the smallest scale.
 */
export function linesFor(piece: Piece, width: number, minBarWidth: number, wanted: number): SystemRange[] {
  const { bars } = piece.phrase;
  let ranges = systemsFor(bars, width, minBarWidth);
  for (let most = barsAcross(ranges) - 1; most > 0; most--) {
    if (!piece.signs || roomFor(piece, ranges, width) >= LEAST_SCALE * wanted) break;
    ranges = systemsFor(bars, width, width / most);
  }
  return ranges;
}

const barsAcross = (ranges: readonly SystemRange[]): number =>
  Math.max(...ranges.map(({ firstBar, endBar }) => endBar - firstBar));

/**
 * The scale at which the fullest bar's columns stand clear of each other where lines are `width` wide: the
 * wanted one, or smaller, down to {@link LEAST_SCALE}.
 */
export function scaleFor(
  piece: Piece,
  ranges: readonly SystemRange[],
  width: number,
  wanted: number,
): number {
  if (!piece.signs || ranges.length === 0) return wanted;
  return Math.min(wanted, Math.max(LEAST_SCALE * wanted, roomFor(piece, ranges, width)));
}

/** The scale at which the fullest bar just has room. */
export function roomFor({ phrase, key, tab }: Piece, ranges: readonly SystemRange[], width: number): number {
  const bars = notate(phrase);
  const lineStarts = ranges.map(({ firstBar }) => firstBar);
  const accidentals = writtenAccidentals(bars, phrase.notes, fifthsOf(key), lineStarts);
  const isWide = ({ noteIndex, tiedFromPrevious }: Sign): boolean =>
    tab && noteIndex !== null && !tiedFromPrevious && phrase.notes[noteIndex]!.fret! > 9;
  const fullest = Math.max(
    ...bars.map((bar, b) =>
      bar.reduce(
        (sum, sign, i) =>
          sum +
          ROOM.sign +
          (accidentals[b]![i] ? ROOM.accidental : 0) +
          (accidentals[b]![i]?.courtesy ? ROOM.brackets : 0) +
          (sign.dots ? ROOM.dot : 0) +
          (isWide(sign) ? ROOM.wideFret : 0),
        0,
      ),
    ),
  );
  return width / (ROOM.head + barsAcross(ranges) * fullest);
}

/**
 * The x of an instant: through the note columns, straight between them and out to the bar lines, so that
 * a strip below shares the axis of the notes.
 */
export function xOfTicks(system: EngravedSystem, ticks: number): number {
  const first = system.bars[0]!;
  const last = system.bars[system.bars.length - 1]!;
  const anchors = [
    { at: first.startTicks, x: first.startX },
    ...system.notes.map((note) => ({ at: note.startTicks, x: note.x })),
    { at: last.endTicks, x: last.endX },
  ].filter((anchor, i, all) => i === 0 || anchor.at > all[i - 1]!.at || i === 1);
  let right = anchors.findIndex((anchor) => anchor.at > ticks);
  if (right < 0) right = anchors.length - 1;
  right = Math.max(1, right);
  const a = anchors[right - 1]!;
  const b = anchors[right]!;
  if (b.at === a.at) return b.x;
  const share = (ticks - a.at) / (b.at - a.at);
  return a.x + Math.min(1.25, Math.max(-0.25, share)) * (b.x - a.x);
}

/** The instant that stands at an x, ticks: {@link xOfTicks} the other way round, to the nearest `step`. */
export function ticksAtX(system: EngravedSystem, x: number, step: number): number {
  const [from, to] = [system.bars[0]!.startTicks, system.bars.at(-1)!.endTicks];
  const places = Array.from({ length: Math.ceil((to - from) / step) }, (_, i) => from + i * step);
  const away = (at: number): number => Math.abs(xOfTicks(system, at) - x);
  return places.reduce((best, at) => (away(at) < away(best) ? at : best), from);
}

/** Draws lines of music into elements of the page. */
export interface Engraver {
  /**
   * Replaces what `host` holds by one line of music.
   * @param width CSS pixels. @param scale 1 = staff lines 10 px apart.
   */
  drawSystem(
    host: HTMLElement,
    piece: Piece,
    range: SystemRange,
    width: number,
    scale: number,
  ): EngravedSystem;
  /** Replaces what `host` holds by a rhythm figure, without a stave. */
  drawFigure(host: HTMLElement, figure: RhythmFigure): void;
}
