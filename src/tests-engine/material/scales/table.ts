import * as v from 'valibot';
import { Refusal, type Thrown } from '../../../music/refusal.ts';
import { LIMITS, scaleEntry } from '../../../music/schema/index.ts';
import { REFUSALS, type RefusalsOf } from '../../refusals/index.ts';
import { MOST_ENTRIES } from './list.ts';
import { DIRECTIONS, NOTE_VALUES, SCALE_KINDS, type ScaleEntry } from './types.ts';

/** A table or a JSON value that is no list of scales. `message` is one sentence with the line and a remedy. */
export class ScaleFormatError extends Refusal<keyof RefusalsOf<'scales'>> {
  override readonly name = 'ScaleFormatError';
  constructor(...thrown: Thrown<RefusalsOf<'scales'>>) {
    super(REFUSALS, thrown);
  }
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
  if (!head || head.every((cell) => cell.trim() === '')) throw new ScaleFormatError('scales-empty');
  const names = head.map((cell) => cell.trim().toLowerCase());
  const unknown = names.find((name) => name !== '' && !(SCALE_COLUMNS as readonly string[]).includes(name));
  if (unknown !== undefined)
    throw new ScaleFormatError('scales-column', { column: short(unknown), known: SCALE_COLUMNS.join(', ') });
  for (const needed of ['key', 'kind'])
    if (!names.includes(needed)) throw new ScaleFormatError('scales-no-column', { column: needed });
  if (body.length > MOST_ENTRIES)
    throw new ScaleFormatError('scales-lines', { lines: body.length, most: MOST_ENTRIES });
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
      throw new ScaleFormatError('scales-yes', { line, column: name, found: short(text) });
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
  throw wrongCell(String(parsed.issues[0].path?.[0]?.key ?? 'swung'), cell, line);
}

/** What may stand in the cell of an entry's field. */
function wrongCell(field: string, cell: (name: string) => string, line: number): ScaleFormatError {
  const at = (column: string) => ({ line, found: short(cell(column)) });
  switch (field) {
    case 'tonic':
      return new ScaleFormatError('scales-key', at('key'));
    case 'kind':
      return new ScaleFormatError('scales-kind', { ...at('kind'), known: SCALE_KINDS.join(', ') });
    case 'octaves':
      return new ScaleFormatError('scales-octaves', at('octaves'));
    case 'string':
      return new ScaleFormatError('scales-string', at('string'));
    case 'position':
      return new ScaleFormatError('scales-position', at('position'));
    case 'direction':
      return new ScaleFormatError('scales-direction', { ...at('direction'), known: DIRECTIONS.join(', ') });
    case 'values':
      return new ScaleFormatError('scales-values', { ...at('values'), known: NOTE_VALUES.join(', ') });
    case 'tempo': {
      const [slowest, fastest] = LIMITS.tempoBpm;
      return new ScaleFormatError('scales-tempo', { ...at('tempo'), slowest, fastest });
    }
    default:
      return new ScaleFormatError('scales-swung', at('swung'));
  }
}

const short = (text: string): string => (text.length > 30 ? `${text.slice(0, 29)}…` : text);
