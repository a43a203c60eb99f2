import { readTable, writeTable } from '../../../exchange/index.ts';
import {
  CHORD_COLUMNS,
  chordFrom,
  rowsOfChords,
  chordsFrom,
  MOST_CHORDS,
  type ChordEntry,
  type ChordList,
} from '../../../tests-engine/index.ts';
import { saveFile } from '../../record/save.ts';
import { refusalText } from '../../refusalText.ts';
import { tried } from '../../refused.ts';

type Read = { readonly chords: readonly ChordEntry[] } | { readonly refused: string };

/** The list as a table that spreadsheets open, and {@link chordsIn} reads again. */
export function saveChords(list: ChordList): void {
  const name = list.name.replace(/[^\p{L}\p{N} -]/gu, '').trim() || 'chords';
  saveFile(
    `${name}.csv`,
    writeTable([[...CHORD_COLUMNS], ...rowsOfChords(list.chords)]),
    'text/csv;charset=utf-8',
  );
}

function orRefused(read: () => readonly ChordEntry[]): Read {
  const found = tried(read);
  return 'refused' in found ? { refused: refusalText(found.refused) } : { chords: found.read };
}

/** The chords of a table, or one sentence why there are none. */
export const chordsIn = (file: Uint8Array): Read =>
  orRefused(() => chordsFrom(readTable(new TextDecoder().decode(file))));

/** The chord that a form names, or one sentence why it is none. */
export const chordTyped = (name: string, shape: string): Read =>
  orRefused(() => [chordFrom(name.trim(), shape.trim())]);

/** The list with more chords at its end, as many as fit; a kind of shape brings only those that it does not hold yet. */
export function withChords(list: ChordList, more: readonly ChordEntry[], once = false): ChordList {
  const idOf = ({ symbol, frets }: ChordEntry): string => `${symbol} ${frets?.join() ?? ''}`;
  const there = new Set(once ? list.chords.map(idOf) : []);
  const added = more.filter((one) => !there.has(idOf(one)));
  return { ...list, chords: [...list.chords, ...added].slice(0, MOST_CHORDS) };
}
