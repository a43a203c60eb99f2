import Papa from 'papaparse';
import { ExchangeError } from '../error.ts';

/** A text that is no table. `message` is one sentence with a remedy. */
export class TableError extends ExchangeError {
  override readonly name = 'TableError';
}

/** A table longer than this is none that anyone typed, characters. */
const MOST_CHARACTERS = 1_000_000;
/** What spreadsheets of different languages put between cells. */
const DELIMITERS = [',', ';', '\t'];

/**
 * A table saved by a spreadsheet, as rows of cells: RFC 4180, and what is found beside it (semicolons or tabs, a byte
 * order mark, any line ends). Empty lines stay, as rows of one empty cell, so that line numbers are those of the file.
 * @throws TableError for binary data, a quotation mark that is never closed, or more than a million characters
 */
export function readTable(text: string): string[][] {
  if (text.length > MOST_CHARACTERS) throw new TableError('table-long');
  if (text.includes('\0')) throw new TableError('table-binary');
  const plain = text.replace(/^\uFEFF/, '');
  const { data, errors } = Papa.parse<string[]>(plain, { delimitersToGuess: DELIMITERS });
  const open = errors.find(({ type }) => type === 'Quotes');
  if (open) throw new TableError('table-quote', { line: (open.row ?? 0) + 1 });
  // The end of the last line is no line of its own.
  return data.length > 1 && data.at(-1)!.every((cell) => cell === '') ? data.slice(0, -1) : data;
}

/** A text that a spreadsheet would run as a formula. */
const FORMULA = /^[=+\-@\t\r]/;

/** Rows as CSV by RFC 4180 (commas, CRLF), with a byte order mark, without which spreadsheets read accents wrongly. */
export function writeTable(rows: readonly (readonly string[])[]): string {
  const safe = rows.map((row) => row.map((cell) => (FORMULA.test(cell) ? `'${cell}` : cell)));
  return `\uFEFF${Papa.unparse(safe, { newline: '\r\n' })}\r\n`;
}
