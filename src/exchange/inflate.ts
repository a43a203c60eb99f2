import { gunzipSync, Inflate } from 'fflate';
import { inOne } from './joined.ts';

/** Packed bytes handed on at a time. Deflate makes at most 1,032 of one, so no step unpacks more than 4 MiB. */
const STEP = 4096;

/** Thrown where there is more in it than may be: not damaged, but too much. */
export class TooMuch extends RangeError {
  override name = 'TooMuch';
}

/**
 * Unpacks deflated bytes (RFC 1951) and stops where there is more in them than may be, whatever a header said.
 *
 * @param most bytes that may come out
 * @throws TooMuch beyond them; whatever the library throws for what is damaged or cut short.
 */
export function inflated(bytes: Uint8Array, most: number, dictionary?: Uint8Array): Uint8Array {
  const parts: Uint8Array[] = [];
  let length = 0;
  let whole = false;
  const stream = new Inflate(dictionary ? { dictionary } : {}, (part, last) => {
    length += part.length;
    if (length > most) throw new TooMuch(`more than ${most} bytes`);
    parts.push(part);
    whole = last;
  });
  for (let at = 0; at < bytes.length; at += STEP)
    stream.push(bytes.subarray(at, at + STEP), at + STEP >= bytes.length);
  if (!whole) throw new RangeError('it is cut short');
  if (parts.length === 1) return parts[0]!;
  return inOne(parts);
}

/** Bytes of gzip's trailer: a checksum and the length of what was packed (RFC 1952, section 2.3.1). */
const TRAILER = 8;

/**
 * Unpacks gzip at once, as an app packed it: for what is small, a stream of the browser's takes ten times as long. Its
 * checksum is not looked at: it is for what was authenticated otherwise.
 *
 * @param most bytes that may come out; room is made for what the trailer says, and for nothing beyond it
 * @throws TooMuch, Error for what is no gzip
 */
export function gunzipped(bytes: Uint8Array, most: number): Uint8Array {
  if (bytes.length < TRAILER) throw new RangeError('it is cut short');
  const length = new DataView(bytes.buffer, bytes.byteOffset).getUint32(bytes.length - 4, true);
  if (length > most) throw new TooMuch(`${length} bytes, ${most} may come out`);
  const out = gunzipSync(bytes, { out: new Uint8Array(length) });
  if (out.length !== length) throw new RangeError('it is not as long as it says');
  return out;
}
