import { parseChord } from '../../../music/chords/index.ts';
import { Refusal, type Thrown } from '../../../music/refusal.ts';
import { LIMITS } from '../../../music/schema/index.ts';
import { REFUSALS, type RefusalsOf } from '../../refusals/index.ts';
import { chordFits, fretsText, MOST_CHORDS, readFrets, type ChordEntry } from './list.ts';

/** A table that is no list of chords. `message` is one sentence with the line and a remedy. */
export class ChordFormatError extends Refusal<keyof RefusalsOf<'chord' | 'chords'>> {
  override readonly name = 'ChordFormatError';
  constructor(...thrown: Thrown<RefusalsOf<'chord' | 'chords'>>) {
    super(REFUSALS, thrown);
  }
}

export const CHORD_COLUMNS = ['chord', 'shape'] as const;

/** Chords as rows of text under {@link CHORD_COLUMNS}; an empty shape is any that holds the chord. */
export const rowsOfChords = (chords: readonly ChordEntry[]): string[][] =>
  chords.map(({ symbol, frets }) => [symbol, frets === null ? '' : fretsText(frets)]);

/**
 * Chords from a table whose first row names its columns, in any order and any case; only the chord has to be there.
 * @throws ChordFormatError naming the line, what stands there and what may
 */
export function chordsFrom(rows: readonly (readonly string[])[]): ChordEntry[] {
  const [head, ...body] = rows;
  if (!head || head.every((cell) => cell.trim() === '')) throw new ChordFormatError('chords-empty');
  const names = head.map((cell) => cell.trim().toLowerCase());
  const unknown = names.find((name) => name !== '' && !(CHORD_COLUMNS as readonly string[]).includes(name));
  if (unknown !== undefined) throw new ChordFormatError('chords-column', { column: short(unknown) });
  if (!names.includes('chord')) throw new ChordFormatError('chords-no-column');
  if (body.length > MOST_CHORDS)
    throw new ChordFormatError('chords-lines', { lines: body.length, most: MOST_CHORDS });
  return body.flatMap((row, i) => {
    const cell = (name: string): string => (row[names.indexOf(name)] ?? '').trim();
    return row.every((one) => one.trim() === '') ? [] : [chordFrom(cell('chord'), cell('shape'), i + 2)];
  });
}

/** One chord as it is written, for a line of a table or a form. @throws ChordFormatError in one sentence */
export function chordFrom(name: string, shape: string, line: number | null = null): ChordEntry {
  const symbol = (name.charAt(0).toUpperCase() + name.slice(1)).replaceAll('♯', '#').replaceAll('♭', 'b');
  if (parseChord(symbol) === null)
    throw line === null
      ? new ChordFormatError('chord-name', { found: short(name) })
      : new ChordFormatError('chord-name-in', { line, found: short(name) });
  const frets = shape === '' ? null : readFrets(shape);
  if (shape !== '' && (frets === null || frets.some((fret) => fret !== null && fret > LIMITS.frets[1])))
    throw line === null
      ? new ChordFormatError('chord-shape', { found: short(shape) })
      : new ChordFormatError('chord-shape-in', { line, found: short(shape) });
  const entry = { symbol, frets };
  if (!chordFits(entry)) {
    const unlike = { shape: short(shape), chord: symbol };
    throw line === null
      ? new ChordFormatError('chord-unlike', unlike)
      : new ChordFormatError('chord-unlike-in', { line, ...unlike });
  }
  return entry;
}

const short = (text: string): string => (text.length > 30 ? `${text.slice(0, 29)}…` : text);
