import { fromBase64Url, inOne, joined, toBase64Url } from '../exchange/index.ts';

export { fromBase64Url, inOne, toBase64Url };

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
export const through = (
  bytes: Bytes,
  how: CompressionStream | DecompressionStream,
  most: number,
): Promise<Bytes> => joined(new Blob([bytes]).stream().pipeThrough(how), most);
