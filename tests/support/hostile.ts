import { deflateSync, gzipSync, strToU8, zipSync } from 'fflate';
import {
  ExchangeError,
  testFromMidi,
  testFromMusicXml,
  testFromWholeCode,
  wholeCode,
} from '../../src/exchange/index.ts';
import { unpackBackup } from '../../src/store/backup/file.ts';
import { readHomework } from '../../src/store/homework/homework.ts';
import { unpackResults } from '../../src/store/homework/resultsFile.ts';
import { ImportProblem } from '../../src/store/problem.ts';
import { SCHEMA_VERSION } from '../../src/store/schema/migrations.ts';
import { makeTest } from '../../src/tests-engine/index.ts';
import { pack } from '../../src/store/backup/container.ts';
import { withJson } from './container.ts';

/** A door of the app, given bytes or the text of a link. */
type Door = (given: never) => unknown;
const options = {
  kind: 'melody',
  instrument: 'guitar',
  tuning: [40, 45, 50, 55, 59, 64],
  style: 'rock',
} as const;
const musicXml: Door = (bytes: Uint8Array) => testFromMusicXml(bytes, options);
const midi: Door = (bytes: Uint8Array) => testFromMidi(bytes, options);

/** What is made to cost much while it is read. Each is small to send, and right in every checksum. */
export interface Hostile {
  readonly name: string;
  readonly make: () => unknown;
  readonly door: Door;
  /** What the refusal says: an exchange's sentence, or a code of the store's. */
  readonly says: RegExp;
  /** To make it takes longer than a test may: only the bench does. */
  readonly heavy?: true;
}

/** CRC-32 (ISO 3309), bit by bit as the standard has it. */
function crc32(bytes: Uint8Array): number {
  let crc = 0xffff_ffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb8_8320 : 0);
  }
  return ~crc >>> 0;
}

/** A link's code of any content, its checksum right. */
export function codeOf(content: Uint8Array, version = '1'): string {
  const body = deflateSync(content, { level: 9 });
  const whole = new Uint8Array(4 + body.length);
  new DataView(whole.buffer).setUint32(0, crc32(content));
  whole.set(body, 4);
  return version + Buffer.from(whole).toString('base64url');
}

const MIB = 2 ** 20;
/** JSON text of this many bytes that says nothing. */
const blanks = (bytes: number): Uint8Array => new Uint8Array(bytes).fill(0x20);
const score = (inner: string): Uint8Array =>
  strToU8(`<?xml version="1.0"?><score-partwise><part><measure>${inner}</measure></part></score-partwise>`);
const container = (path: string): Uint8Array =>
  strToU8(`<container><rootfiles><rootfile full-path="${path}"/></rootfiles></container>`);
const mxl = (path: string, files: Record<string, Uint8Array>): Uint8Array =>
  zipSync({ 'META-INF/container.xml': container(path), ...files }, { level: 9 });

/** A zip whose directory says that every entry holds one byte. */
function lying(zip: Uint8Array): Uint8Array {
  const view = new DataView(zip.buffer, zip.byteOffset, zip.byteLength);
  for (let at = 0; at + 46 < zip.length; at++)
    if (view.getUint32(at, true) === 0x0201_4b50) view.setUint32(at + 24, 1, true);
  return zip;
}

const homeworkOf = async (codes: readonly string[]): Promise<string> => {
  const json = { version: 2, homeworkId: '0'.repeat(32), manner: 'strict', codes };
  return Buffer.from(await pack('homework', json)).toString('base64url');
};
const records = (change: object): object => ({
  schema: SCHEMA_VERSION,
  exportedAtMs: 1e12,
  records: {
    ...{
      students: [],
      attempts: [],
      overrides: [],
      lessonNotes: [],
      homework: [],
      blindMarks: [],
      sittings: [],
    },
    settings: [],
    ...change,
  },
  blocks: [],
  audio: [],
});

const tooMuch = /holds far more than any test/;

export const HOSTILE: readonly Hostile[] = [
  {
    name: 'link: a code of 14 MiB',
    make: () => codeOf(blanks(14 * MIB)),
    door: testFromWholeCode as Door,
    says: tooMuch,
  },
  {
    name: 'link: 3 million signs',
    make: () => `1${'A'.repeat(3e6)}`,
    door: testFromWholeCode as Door,
    says: tooMuch,
  },
  {
    name: 'homework: a list of 1.4 GiB',
    heavy: true,
    make: () => `3${codeOf(blanks(1400 * MIB)).slice(1)}`,
    door: readHomework as Door,
    says: /too-big/,
  },
  {
    name: 'homework: a list of 100,000 tests',
    make: () => codeOf(strToU8(`[{},[${'[],'.repeat(99_999)}[]]]`), '3'),
    door: readHomework as Door,
    says: /too-big/,
  },
  {
    name: 'homework: 100 codes of 14 MiB',
    heavy: true,
    make: () => homeworkOf(Array<string>(100).fill(codeOf(blanks(14 * MIB)))),
    door: readHomework as Door,
    says: /too-big/,
  },
  {
    name: 'homework: a good test and a newer one',
    make: () => {
      const code = wholeCode(makeTest({ kind: 'melody', level: 1, seed: 1, instrument: 'guitar' }));
      return homeworkOf([code, `7${code.slice(1)}`]);
    },
    door: readHomework as Door,
    says: /newer-version/,
  },
  {
    name: 'MusicXML: 4 MB of spaces in a tag',
    make: () => score(`<note ${' '.repeat(4e6)}/>`),
    door: musicXml,
    says: /no note in the file/,
  },
  {
    name: 'MusicXML: spaces in an .mxl of 4 kB',
    make: () => mxl('a.xml', { 'a.xml': score(`<note${' '.repeat(4e6)}`) }),
    door: musicXml,
    says: /damaged or cut short/,
  },
  {
    name: 'MusicXML: 80,000 attributes',
    make: () => score(`<note ${Array.from({ length: 80_000 }, (_, i) => `a${i}="1"`).join(' ')}/>`),
    door: musicXml,
    says: /no note in the file/,
  },
  {
    name: 'MusicXML: a million open tags',
    make: () => score('<a>'.repeat(1e6)),
    door: musicXml,
    says: /nested too deeply/,
  },
  {
    name: 'MusicXML: a million empty elements',
    make: () => score('<a/>'.repeat(1e6)),
    door: musicXml,
    says: /more than 150000 elements/,
  },
  {
    name: 'MusicXML: entities within entities',
    make: () => {
      const names = [...'abcdefghij'];
      const grown = names.map((name, i) => {
        const inner = i === 0 ? 'lol' : `&${names[i - 1]!};`.repeat(10);
        return `<!ENTITY ${name} "${inner}">`;
      });
      return strToU8(
        `<!DOCTYPE score-partwise [${grown.join('')}]><score-partwise><part>&j;</part></score-partwise>`,
      );
    },
    door: musicXml,
    says: /no note in the file/,
  },
  {
    name: 'MusicXML: an .mxl of 900 × 4 MiB',
    heavy: true,
    make: () => {
      const full = blanks(4 * MIB);
      return mxl('7.xml', Object.fromEntries(Array.from({ length: 900 }, (_, i) => [`${i}.xml`, full])));
    },
    door: musicXml,
    says: /not MusicXML/,
  },
  {
    name: 'MusicXML: an .mxl whose score says 1 byte and is 1 GiB',
    heavy: true,
    make: () => lying(mxl('a.xml', { 'a.xml': blanks(1024 * MIB) })),
    door: musicXml,
    says: /larger than 4 MiB/,
  },
  {
    name: 'MusicXML: an .mxl of 50,000 names',
    heavy: true,
    make: () =>
      mxl('a.xml', Object.fromEntries(Array.from({ length: 50_000 }, (_, i) => [`${i}`, new Uint8Array(0)]))),
    door: musicXml,
    says: /larger than 4 MiB/,
  },
  ...['constructor', '__proto__', 'toString', 'hasOwnProperty'].map((name) => ({
    name: `MusicXML: an .mxl that names "${name}"`,
    make: () => mxl(name, {}),
    door: musicXml,
    says: /holds no score/,
  })),
  {
    name: 'MusicXML: an .mxl whose score says 1 byte and is 16 MiB',
    make: () => lying(mxl('a.xml', { 'a.xml': blanks(16 * MIB) })),
    door: musicXml,
    says: /larger than 4 MiB/,
  },
  {
    name: 'MusicXML: an .mxl of 1,100 names',
    make: () =>
      mxl('a.xml', Object.fromEntries(Array.from({ length: 1100 }, (_, i) => [`${i}`, new Uint8Array(0)]))),
    door: musicXml,
    says: /larger than 4 MiB/,
  },
  {
    name: 'MIDI: 2 MiB',
    make: () => new Uint8Array([...strToU8('MThd'), ...new Uint8Array(2 * MIB)]),
    door: midi,
    says: /larger than 1 MiB/,
  },
  {
    name: 'MIDI: half a million events',
    make: () => {
      const events = new Uint8Array(MIB - 64);
      // Running status: a delta time, a controller, its value.
      for (let at = 0; at + 2 < events.length; at += 3) events.set([0, 7, 1], at);
      events.set([0, 0xb0, 7, 1, 0, 0], 0);
      const head = [0x4d, 0x54, 0x68, 0x64, 0, 0, 0, 6, 0, 0, 0, 1, 1, 224, 0x4d, 0x54, 0x72, 0x6b];
      const length = new Uint8Array(4);
      new DataView(length.buffer).setUint32(0, events.length);
      return new Uint8Array([...head, ...length, ...events]);
    },
    door: midi,
    says: /no note in the file|damaged/,
  },
  {
    name: 'backup: 583 kB that are 600 MB of text',
    heavy: true,
    make: () => withJson('backup', gzipSync(blanks(600 * MIB), { level: 9 })),
    door: unpackBackup as Door,
    says: /too-big/,
  },
  {
    name: 'backup: 16 MiB of text in 16 kB',
    make: () => withJson('backup', gzipSync(blanks(16 * MIB), { level: 9 })),
    door: unpackBackup as Door,
    says: /too-big/,
  },
  {
    name: 'backup: half a million empty lists',
    make: () => withJson('backup', gzipSync(strToU8(`[${'[],'.repeat(5e5)}0]`))),
    door: unpackBackup as Door,
    says: /too-big/,
  },
  {
    name: 'backup: 400,000 settings',
    make: () =>
      pack(
        'backup',
        records({ settings: Array.from({ length: 400_000 }, (_, i) => ({ key: `k${i}`, value: 1 })) }),
      ),
    door: unpackBackup as Door,
    says: /too-big/,
  },
  {
    name: 'backup: five million empty lists',
    heavy: true,
    make: () => withJson('backup', gzipSync(strToU8(`[${'[],'.repeat(5e6)}0]`), { level: 9 })),
    door: unpackBackup as Door,
    says: /too-big/,
  },
  {
    name: 'backup: a million brackets deep',
    make: () => withJson('backup', gzipSync(strToU8('['.repeat(1e6) + ']'.repeat(1e6)))),
    door: unpackBackup as Door,
    says: /invalid/,
  },
  {
    name: 'results: 200 MB of text',
    heavy: true,
    make: () => withJson('results', gzipSync(blanks(200 * MIB), { level: 9 })),
    door: unpackResults as Door,
    says: /too-big/,
  },
];

/** What the door says: its refusal as text, "ACCEPTED", or "CRASHED" with what was thrown. */
export async function answerTo({ door, make }: Pick<Hostile, 'door' | 'make'>): Promise<string> {
  const given = (await make()) as never;
  return answered(() => door(given));
}
export async function answered(read: () => unknown): Promise<string> {
  try {
    await read();
    return 'ACCEPTED';
  } catch (error) {
    if (error instanceof ImportProblem) return error.code;
    if (error instanceof ExchangeError) return error.message;
    return `CRASHED ${String(error)}`;
  }
}
