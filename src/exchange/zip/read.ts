import { inflated, TooMuch } from '../inflate.ts';
import { MOST } from '../limits.ts';

/**
 * A zip file's directory, read before anything in it is opened (APPNOTE.TXT 6.3.10, sections 4.3.12 and 4.3.16). An
 * own reader: fflate 0.8.3 makes room for what a directory says before it looks, opens every entry of a name, and keeps
 * names as keys of a plain object, where `__proto__` is none.
 */
export interface Zip {
  readonly names: readonly string[];
  /**
   * What is in one entry.
   * @returns null where there is none of that name
   * @throws TooMuch beyond `most` bytes, RangeError where it is damaged or packed in a way that is not read
   */
  open(name: string, most: number): Uint8Array | null;
}

const DIRECTORY_END = 0x0605_4b50;
const DIRECTORY_ENTRY = 0x0201_4b50;
const LOCAL_HEADER = 0x0403_4b50;
/** The end stands at the end, before a comment of at most 65,535 bytes. */
const END_BYTES = 22;
const STORED = 0;
const DEFLATED = 8;

interface Entry {
  readonly method: number;
  readonly packed: number;
  readonly size: number;
  readonly at: number;
}

/** @throws RangeError for what is no zip file or is damaged, TooMuch for a directory that is too long. */
export function readZip(bytes: Uint8Array): Zip {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = endOf(view);
  const count = view.getUint16(end + 10, true);
  if (count > MOST.zipEntries) throw new TooMuch(`${count} entries`);
  const entries = new Map<string, Entry>();
  const decoder = new TextDecoder();
  let at = view.getUint32(end + 16, true);
  for (let i = 0; i < count; i++) {
    if (at + 46 > bytes.length || view.getUint32(at, true) !== DIRECTORY_ENTRY)
      throw new RangeError('the directory is damaged');
    const nameLength = view.getUint16(at + 28, true);
    const name = decoder.decode(bytes.subarray(at + 46, at + 46 + nameLength));
    // Of two entries of one name the first counts, as for whoever unpacks them in order and never overwrites.
    if (!entries.has(name))
      entries.set(name, {
        method: view.getUint16(at + 10, true),
        packed: view.getUint32(at + 20, true),
        size: view.getUint32(at + 24, true),
        at: view.getUint32(at + 42, true),
      });
    at += 46 + nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
  }
  return {
    names: [...entries.keys()],
    open(name, most) {
      const entry = entries.get(name);
      return entry ? opened(bytes, view, entry, most) : null;
    },
  };
}

function endOf(view: DataView): number {
  const earliest = Math.max(0, view.byteLength - END_BYTES - 0xffff);
  for (let at = view.byteLength - END_BYTES; at >= earliest; at--)
    if (view.getUint32(at, true) === DIRECTORY_END) return at;
  throw new RangeError('there is no directory');
}

function opened(bytes: Uint8Array, view: DataView, { method, packed, size, at }: Entry, most: number) {
  if (size > most) throw new TooMuch(`${size} bytes`);
  if (at + 30 > bytes.length || view.getUint32(at, true) !== LOCAL_HEADER)
    throw new RangeError('an entry is not where the directory says');
  const from = at + 30 + view.getUint16(at + 26, true) + view.getUint16(at + 28, true);
  if (from + packed > bytes.length) throw new RangeError('an entry is cut short');
  const content = bytes.subarray(from, from + packed);
  if (method === STORED) return content;
  if (method !== DEFLATED) throw new RangeError(`packed by method ${method}`);
  return inflated(content, most);
}
