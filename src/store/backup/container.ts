import { sha256 } from '../canonical.ts';
import { joined } from '../../exchange/index.ts';
import { gunzippedJson, unpacksTo } from '../gzip.ts';
import { MOST } from '../limits.ts';
import { ImportProblem } from '../problem.ts';

/**
 * The file that everything is exported to, and homework and results travel in:
 *
 *   bytes 0–7    "TWOBAR" 0x1A 0x0A (0x1A ends a text listing; a file mangled as text is seen at once)
 *   bytes 8–9    container version, little endian; see {@link VERSION}. These ten bytes never change meaning.
 *   byte  10     what it is: 1 backup, 2 homework, 3 results
 *   byte  11     0
 *   bytes 12–15  length of the packed JSON, little endian
 *   bytes 16–47  SHA-256 of bytes 0–15 and of all after byte 47
 *   bytes 48–51  from version 2 on: length of all attachments, little endian, so that a file cut in them is seen as cut
 *   then         the JSON, gzip (RFC 1952)
 *   then         raw attachments, one after another; the JSON says how long each is
 */
export type FileKind = 'backup' | 'homework' | 'results';
const KINDS: readonly FileKind[] = ['backup', 'homework', 'results'];
const MAGIC = [0x54, 0x57, 0x4f, 0x42, 0x41, 0x52, 0x1a, 0x0a];
/** What is written now. Version 2 of a backup may hold attempts in packed blocks beside its JSON. */
const VERSION: Readonly<Record<FileKind, number>> = { backup: 2, homework: 1, results: 1 };
const NEWEST = Math.max(...Object.values(VERSION));
const HASH_END = 48;
/** Where the JSON begins. */
const startOf = (version: number): number => (version === 1 ? HASH_END : HASH_END + 4);
const MOST_JSON: Readonly<Record<FileKind, number>> = {
  backup: MOST.backupBytes,
  results: MOST.resultsBytes,
  homework: MOST.homeworkBytes,
};

export interface Container {
  readonly kind: FileKind;
  readonly json: unknown;
  readonly attachments: Uint8Array<ArrayBuffer>;
}

/** Hash over everything but the hash itself. */
function checksum(file: Uint8Array): Promise<Uint8Array> {
  const covered = new Uint8Array(file.length - 32);
  covered.set(file.subarray(0, 16));
  covered.set(file.subarray(HASH_END), 16);
  return sha256(covered);
}

/** Takes a file's JSON and attachments piece by piece, so that the whole text never lies in memory. */
export interface Packer {
  /** The next part of the JSON text. */
  write(text: string): void;
  attach(bytes: Uint8Array): void;
  /** The whole file. */
  end(): Promise<Uint8Array<ArrayBuffer>>;
}

export function packer(kind: FileKind): Packer {
  const gzip = new CompressionStream('gzip');
  const writer = gzip.writable.getWriter();
  const json = joined(gzip.readable);
  const attachments: Uint8Array[] = [];
  const encoder = new TextEncoder();
  return {
    write: (text) => void writer.write(encoder.encode(text)),
    attach: (bytes) => void attachments.push(bytes),
    async end() {
      await writer.close();
      const packed = await json;
      const start = startOf(VERSION[kind]);
      const attached = attachments.reduce((sum, { length }) => sum + length, 0);
      const file = new Uint8Array(start + packed.length + attached);
      file.set(head(kind, packed.length), HASH_END - 16);
      if (start > HASH_END) new DataView(file.buffer).setUint32(HASH_END, attached, true);
      file.set(packed, start);
      let at = start + packed.length;
      for (const one of attachments.splice(0)) {
        file.set(one, at);
        at += one.length;
      }
      // What the hash covers lies in one piece until the hash takes its place; no second copy of the file is made.
      const hash = await sha256(file.subarray(HASH_END - 16));
      file.set(head(kind, packed.length));
      file.set(hash, 16);
      return file;
    },
  };
}

function head(kind: FileKind, packedLength: number): Uint8Array {
  const bytes = new Uint8Array(16);
  bytes.set(MAGIC);
  const view = new DataView(bytes.buffer);
  view.setUint16(8, VERSION[kind], true);
  bytes[10] = KINDS.indexOf(kind) + 1;
  view.setUint32(12, packedLength, true);
  return bytes;
}

export function pack(
  kind: FileKind,
  json: unknown,
  attachments: readonly Uint8Array[] = [],
): Promise<Uint8Array<ArrayBuffer>> {
  const file = packer(kind);
  file.write(JSON.stringify(json));
  attachments.forEach((one) => file.attach(one));
  return file.end();
}

/** What a file of this app says it holds, by its first eleven bytes; null for any other file. */
export const kindOfOwn = (file: Uint8Array): FileKind | null =>
  MAGIC.every((byte, i) => file[i] === byte) ? (KINDS[(file[10] ?? 0) - 1] ?? null) : null;

/** @throws ImportProblem 'not-ours', 'truncated', 'newer-version', 'corrupt', 'too-big'. */
export async function unpack(file: Uint8Array<ArrayBuffer>): Promise<Container> {
  const view = new DataView(file.buffer, file.byteOffset, file.byteLength);
  if (MAGIC.some((byte, i) => i < file.length && file[i] !== byte) || file.length === 0)
    throw new ImportProblem('not-ours', 'does not begin like a file of this app');
  if (file.length < HASH_END) throw new ImportProblem('truncated', `only ${file.length} bytes`);
  const version = view.getUint16(8, true);
  const newer = (): never => {
    throw new ImportProblem('newer-version', `container version ${version} is not known here`);
  };
  if (version > NEWEST) newer();
  const start = startOf(version);
  const length = view.getUint32(12, true);
  const attached = start > HASH_END && file.length >= start ? view.getUint32(HASH_END, true) : 0;
  const whole = start + length + attached;
  if (whole > file.length)
    throw new ImportProblem('truncated', `${whole} bytes expected, ${file.length} there`);
  const expected = await checksum(file);
  if (expected.some((byte, i) => byte !== file[16 + i]))
    throw new ImportProblem('corrupt', 'the checksum does not fit');
  const kind = KINDS[file[10]! - 1];
  if (version < 1 || kind === undefined || file[11] !== 0)
    throw new ImportProblem('invalid', 'the header holds what cannot be');
  if (version > VERSION[kind]) newer();
  const { json } = await gunzippedJson(file.slice(start, start + length), unpacksTo(length, MOST_JSON[kind]));
  return { kind, json, attachments: file.slice(start + length) };
}
