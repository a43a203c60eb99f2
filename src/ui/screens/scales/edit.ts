import { readTable, writeTable } from '../../../exchange/index.ts';
import {
  entriesFrom,
  MOST_ENTRIES,
  rowsOf,
  SCALE_COLUMNS,
  type ScaleEntry,
  type ScaleList,
} from '../../../tests-engine/index.ts';
import { saveFile } from '../../record/save.ts';
import { refusalText } from '../../refusalText.ts';
import { tried } from '../../refused.ts';

/** A list without what a reactive page has put about it. */
export const plain = (list: ScaleList): ScaleList => JSON.parse(JSON.stringify(list)) as ScaleList;

/** The list as a table that spreadsheets open, and {@link entriesIn} reads again. */
export function saveTable(list: ScaleList): void {
  const rows = [[...SCALE_COLUMNS], ...rowsOf(list.entries)];
  const name = list.name.replace(/[^\p{L}\p{N} -]/gu, '').trim() || 'scales';
  saveFile(`${name}.csv`, writeTable(rows), 'text/csv;charset=utf-8');
}

/** The scales of a table, or one sentence why there are none. */
export function entriesIn(
  file: Uint8Array,
): { readonly entries: readonly ScaleEntry[] } | { readonly refused: string } {
  const found = tried(() => entriesFrom(readTable(new TextDecoder().decode(file))));
  return 'refused' in found ? { refused: refusalText(found.refused) } : { entries: found.read };
}

/** The list with more entries at its end; as many as fit. */
export const withMore = (list: ScaleList, more: readonly ScaleEntry[]): ScaleList => ({
  ...list,
  entries: [...list.entries, ...more].slice(0, MOST_ENTRIES),
});
