import { parseChord } from '../../../music/chords/index.ts';
import { LIMITS } from '../../../music/schema/index.ts';
import { chordFits, fretsText, MOST_CHORDS, readFrets, type ChordEntry } from './list.ts';

/** A table that is no list of chords. `message` is one sentence with the line and a remedy. */
export class ChordFormatError extends Error {
  override readonly name = 'ChordFormatError';
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
  if (!head || head.every((cell) => cell.trim() === ''))
    throw new ChordFormatError('This table is empty: its first line names the columns chord and shape.');
  const names = head.map((cell) => cell.trim().toLowerCase());
  const unknown = names.find((name) => name !== '' && !(CHORD_COLUMNS as readonly string[]).includes(name));
  if (unknown !== undefined)
    throw new ChordFormatError(
      `This table has a column "${short(unknown)}"; known are ${CHORD_COLUMNS.join(' and ')}.`,
    );
  if (!names.includes('chord')) throw new ChordFormatError('This table has no column "chord"; add it.');
  if (body.length > MOST_CHORDS)
    throw new ChordFormatError(
      `This table has ${body.length} lines, at most ${MOST_CHORDS} are read; split it.`,
    );
  return body.flatMap((row, i) => {
    const cell = (name: string): string => (row[names.indexOf(name)] ?? '').trim();
    return row.every((one) => one.trim() === '') ? [] : [chordFrom(cell('chord'), cell('shape'), i + 2)];
  });
}

/** One chord as it is written, for a line of a table or a form. @throws ChordFormatError in one sentence */
export function chordFrom(name: string, shape: string, line: number | null = null): ChordEntry {
  const where = line === null ? '' : `Line ${line}: `;
  const symbol = (name.charAt(0).toUpperCase() + name.slice(1)).replaceAll('♯', '#').replaceAll('♭', 'b');
  if (parseChord(symbol) === null)
    throw new ChordFormatError(`${where}"${short(name)}" is no chord name; write it as C, F#m7 or D/F#.`);
  const frets = shape === '' ? null : readFrets(shape);
  if (shape !== '' && (frets === null || frets.some((fret) => fret !== null && fret > LIMITS.frets[1])))
    throw new ChordFormatError(
      `${where}"${short(shape)}" is no shape; write six frets from the lowest string, x for one not struck, as x32010.`,
    );
  const entry = { symbol, frets };
  if (!chordFits(entry))
    throw new ChordFormatError(
      `${where}the shape ${short(shape)} does not hold ${symbol}; mend it, or leave it empty for any shape.`,
    );
  return entry;
}

const short = (text: string): string => (text.length > 30 ? `${text.slice(0, 29)}…` : text);
