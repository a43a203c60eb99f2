import * as v from 'valibot';
import { LIMITS, scaleEntry } from '../../../music/schema/index.ts';
import { MOST_ENTRIES } from './list.ts';
import { DIRECTIONS, NOTE_VALUES, SCALE_KINDS, type ScaleEntry } from './types.ts';

/** A table or a JSON value that is no list of scales. `message` is one sentence with the line and a remedy. */
export class ScaleFormatError extends Error {
  override readonly name = 'ScaleFormatError';
}

export const SCALE_COLUMNS = [
  'key',
  'kind',
  'octaves',
  'string',
  'position',
  'direction',
  'values',
  'tempo',
  'swung',
  'by heart',
] as const;

/** Entries as rows of text under {@link SCALE_COLUMNS}. */
export const rowsOf = (entries: readonly ScaleEntry[]): string[][] =>
  entries.map((entry) => [
    entry.tonic,
    entry.kind,
    String(entry.octaves),
    entry.string === null ? '' : String(entry.string),
    entry.position === null ? '' : String(entry.position),
    entry.direction,
    entry.values,
    entry.tempo[0] === entry.tempo[1] ? String(entry.tempo[0]) : `${entry.tempo[0]}-${entry.tempo[1]}`,
    entry.swung ? 'yes' : 'no',
    entry.byHeart ? 'yes' : 'no',
  ]);

/** What stands where a cell is empty or its column is left out. */
const DEFAULTS: Readonly<Record<string, string>> = {
  octaves: '1',
  direction: 'up and down',
  values: 'quavers',
  tempo: '60-80',
  swung: 'no',
  'by heart': 'yes',
};
const YES = ['yes', 'y', 'true', '1', 'x'];
const NO = ['no', 'n', 'false', '0'];

/**
 * Entries from a table whose first row names its columns, in any order and any case; only key and kind have to be there.
 * @throws ScaleFormatError naming the line, what stands there and what may
 */
export function entriesFrom(rows: readonly (readonly string[])[]): ScaleEntry[] {
  const [head, ...body] = rows;
  if (!head || head.every((cell) => cell.trim() === ''))
    throw new ScaleFormatError(
      'This table is empty: its first line names the columns, such as key, kind, octaves.',
    );
  const names = head.map((cell) => cell.trim().toLowerCase());
  const unknown = names.find((name) => name !== '' && !(SCALE_COLUMNS as readonly string[]).includes(name));
  if (unknown !== undefined)
    throw new ScaleFormatError(
      `This table has a column "${short(unknown)}"; known are ${SCALE_COLUMNS.join(', ')}.`,
    );
  for (const needed of ['key', 'kind'])
    if (!names.includes(needed)) throw new ScaleFormatError(`This table has no column "${needed}"; add it.`);
  if (body.length > MOST_ENTRIES)
    throw new ScaleFormatError(
      `This table has ${body.length} lines, at most ${MOST_ENTRIES} are read; split it.`,
    );
  return body.flatMap((row, i) =>
    row.every((cell) => cell.trim() === '') ? [] : [entryFrom(names, row, i + 2)],
  );
}

function entryFrom(names: readonly string[], row: readonly string[], line: number): ScaleEntry {
  const cell = (name: string): string => {
    const text = (row[names.indexOf(name)] ?? '').trim();
    return text === '' ? (DEFAULTS[name] ?? '') : text;
  };
  const number = (name: string): number | null =>
    cell(name) === '' ? null : Number(cell(name).replace(',', '.'));
  const yes = (name: string): boolean => {
    const text = cell(name).toLowerCase();
    if (!YES.includes(text) && !NO.includes(text))
      throw new ScaleFormatError(`Line ${line}: ${name} is "${short(text)}", it may be yes or no.`);
    return YES.includes(text);
  };
  // A dash of any kind between the tempos; spreadsheets like to put in their own.
  const tempos = cell('tempo')
    .split(/\s*[-–—…]\s*/)
    .map((text) => Number(text));
  const tonic = cell('key');
  const parsed = v.safeParse(
    scaleEntry,
    {
      tonic: tonic.charAt(0).toUpperCase() + tonic.slice(1).replace('♯', '#').replace('♭', 'b'),
      kind: cell('kind').toLowerCase(),
      octaves: number('octaves'),
      string: number('string'),
      position: number('position'),
      direction: cell('direction').toLowerCase(),
      values: cell('values').toLowerCase(),
      tempo: tempos.length === 1 ? [tempos[0], tempos[0]] : tempos,
      swung: yes('swung'),
      byHeart: yes('by heart'),
    },
    { abortEarly: true },
  );
  if (parsed.success) return parsed.output;
  const issue = parsed.issues[0];
  const field = String(issue.path?.[0]?.key ?? 'swung');
  const column = field === 'tonic' ? 'key' : field === 'byHeart' ? 'by heart' : field;
  throw new ScaleFormatError(
    `Line ${line}: ${column} is "${short(cell(column))}"; it may be ${MAY_BE[column]}.`,
  );
}

const MAY_BE: Readonly<Record<string, string>> = {
  key: 'a letter with # or b, such as F# or Eb',
  kind: SCALE_KINDS.join(', '),
  octaves: '1 to 3',
  string: 'empty or a string, 1 for the highest',
  position: 'empty or a fret, 1 to 20',
  direction: DIRECTIONS.join(', '),
  values: NOTE_VALUES.join(', '),
  tempo: `${LIMITS.tempoBpm.join(' to ')}, or two tempos such as 60-80, the slower first`,
  swung: 'yes where the values are quavers, or no',
};

const short = (text: string): string => (text.length > 30 ? `${text.slice(0, 29)}…` : text);
