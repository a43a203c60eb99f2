import { fromBase64Url, toBase64Url } from '../exchange/index.ts';

export { fromBase64Url, toBase64Url };

export type Bytes = Uint8Array<ArrayBuffer>;

/** So many random bytes. */
export const randomBytes = (count: number): Bytes => crypto.getRandomValues(new Uint8Array(count));

/** 128 random bits as 32 hex digits, as every id of the record. */
export const newId = (): string => hexOf(randomBytes(16));

export const hexOf = (bytes: Uint8Array): string =>
  Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');

export const utf8 = (text: string): Bytes => new TextEncoder().encode(text) as Bytes;

/** An id that follows from another: the same on every try. */
export const idAfter = async (id: string, what: string): Promise<string> =>
  hexOf(new Uint8Array(await crypto.subtle.digest('SHA-256', utf8(`${what} ${id}`)))).slice(0, 32);

/** Packs (gzip) or unpacks by what every browser and Node has. @throws TypeError for what is no gzip, RangeError beyond `most` */
export async function through(
  bytes: Bytes,
  how: CompressionStream | DecompressionStream,
  most: number,
): Promise<Bytes> {
  const reader = new Blob([bytes])
    .stream()
    .pipeThrough(how)
    .getReader() as ReadableStreamDefaultReader<Bytes>;
  const parts: Bytes[] = [];
  let length = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    length += value.length;
    if (length > most) {
      await reader.cancel();
      throw new RangeError(`unpacks to more than ${most} bytes`);
    }
    parts.push(value);
  }
  const whole = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
