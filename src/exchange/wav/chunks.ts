import { ExchangeError } from '../error.ts';

/** A chunk's contents, where they lie in the file. `declared` may be more than the file holds. */
export interface Chunk {
  readonly id: string;
  readonly start: number;
  readonly declared: number;
}

export interface Riff {
  readonly view: DataView;
  readonly littleEndian: boolean;
  readonly chunks: readonly Chunk[];
  /** Length of the samples as an RF64 header has it (`ds64`, EBU Tech 3306), bytes; null in other files. */
  readonly longData: number | null;
}

const idAt = (view: DataView, at: number): string =>
  String.fromCharCode(view.getUint8(at), view.getUint8(at + 1), view.getUint8(at + 2), view.getUint8(at + 3));

/** Chunk names are printable ASCII: what is not one is junk behind the last chunk. */
const isName = (id: string): boolean => /^[ -~]{4}$/.test(id);

/** More chunks than any writer makes; a bound against a file of millions of empty ones. */
const MOST_CHUNKS = 10_000;

/**
 * The chunks of a RIFF, RF64 or RIFX file of type WAVE, in order, up to and including `data`: what follows
 * the samples is of no use here, so trailing junk cannot do harm. An odd chunk whose pad byte was forgotten
 * is forgiven.
 */
export function readRiff(bytes: Uint8Array): Riff {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length === 0) throw new ExchangeError('wav-empty');
  const kind = bytes.length >= 12 ? idAt(view, 0) : '';
  if (!['RIFF', 'RF64', 'RIFX'].includes(kind) || idAt(view, 8) !== 'WAVE')
    throw new ExchangeError('wav-foreign');
  const littleEndian = kind !== 'RIFX';
  const chunks: Chunk[] = [];
  let longData: number | null = null;
  let at = 12;
  while (at + 8 <= bytes.length && chunks.length < MOST_CHUNKS) {
    const id = idAt(view, at);
    if (!isName(id)) break;
    const declared = view.getUint32(at + 4, littleEndian);
    const start = at + 8;
    chunks.push({ id, start, declared });
    if (id === 'ds64' && declared >= 16 && start + 16 <= bytes.length)
      longData = Number(view.getBigUint64(start + 8, littleEndian));
    if (id === 'LIST' && start + 4 <= bytes.length && idAt(view, start) === 'wavl')
      throw new ExchangeError('wav-pieces');
    if (id === 'data') break;
    const end = start + declared;
    const padded = end + (declared % 2);
    const unpaddedIsName = declared % 2 === 1 && end + 4 <= bytes.length && isName(idAt(view, end));
    const paddedIsName = padded + 4 <= bytes.length && isName(idAt(view, padded));
    at = unpaddedIsName && !paddedIsName ? end : padded;
  }
  return { view, littleEndian, chunks, longData };
}
