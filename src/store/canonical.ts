import { hex } from './ids.ts';

/** JSON with sorted keys: the same text for the same contents, whatever order they were written in. */
export function canonical(value: unknown): string {
  return JSON.stringify(value, (_, inner: unknown) =>
    typeof inner === 'object' && inner !== null && !Array.isArray(inner)
      ? Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1)))
      : inner,
  );
}

/** SHA-256 (FIPS 180-4), 32 bytes. Needs a secure context, as the microphone does. */
export const sha256 = async (bytes: Uint8Array<ArrayBuffer>): Promise<Uint8Array> =>
  new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));

/** First 32 hex digits of the contents' hash: an id that the same contents always get. */
export const contentId = async (value: unknown): Promise<string> =>
  hex(await sha256(new TextEncoder().encode(canonical(value)))).slice(0, 32);
