import { createHash } from 'node:crypto';
import { pack } from '../../src/store/backup/container.ts';

/** A container of the app with any packed JSON in it, its checksum right. */
export async function withJson(
  kind: Parameters<typeof pack>[0],
  packed: Uint8Array,
): Promise<Uint8Array<ArrayBuffer>> {
  const whole = await pack(kind, 0);
  const start = whole[8] === 1 ? 48 : 52;
  const file = new Uint8Array(start + packed.length);
  file.set(whole.subarray(0, start));
  new DataView(file.buffer).setUint32(12, packed.length, true);
  file.set(packed, start);
  return rehashed(file);
}

/** The same file with the checksum that its bytes have. */
export function rehashed(file: Uint8Array<ArrayBuffer>): Uint8Array<ArrayBuffer> {
  const hash = createHash('sha256').update(file.subarray(0, 16)).update(file.subarray(48)).digest();
  file.set(hash, 16);
  return file;
}
