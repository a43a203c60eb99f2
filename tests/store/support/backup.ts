import { listAudio, listBlocks } from '../../../src/store/backup/attachments.ts';
import { pack } from '../../../src/store/backup/container.ts';
import type { SittingRun } from '../../../src/music/sitting.ts';
import type { PracticeTest } from '../../../src/music/score.ts';
import type { Backup } from '../../../src/store/backup/file.ts';
import { gzipped } from '../../../src/store/gzip.ts';
import { SCHEMA_VERSION } from '../../../src/store/schema/migrations.ts';
import type { Attempt, Records, SavedAudio } from '../../../src/store/index.ts';
import { sampleAttempt } from './sample.ts';

export const ID = (n: number) => n.toString(16).padStart(32, '0');

/** A backup's JSON with something in every table, for mutations. */
export function sampleBackup(attemptCount = 6) {
  const studentId = ID(1);
  const attempts: Attempt[] = Array.from({ length: attemptCount }, (_, n) => ({
    ...sampleAttempt(studentId, n),
    id: ID(100 + n),
    atMs: 1e12 + n,
    order: 1e12 + n,
  }));
  const records: Records = {
    students: [
      {
        ...{ id: studentId, name: 'A. B.', instrument: 'guitar', tuningId: null, level: null, manner: null },
        ...{ lessonDay: 1, group: 'Tuesdays', examOn: '2027-06-14', remark: 'r' },
        ...{ createdAtMs: 1e12, thresholds: null },
      },
    ],
    attempts,
    overrides: [
      {
        ...{ id: ID(2), attemptId: ID(100), studentId, atMs: 1e12, order: 1e12 + 50 },
        ...{ verdicts: [{ index: 0, kind: 'late' }], mark: 70, remark: 'so' },
      },
    ],
    lessonNotes: [{ id: ID(3), studentId, atMs: 1e12, text: 'n' }],
    homework: [
      {
        ...{ id: ID(4), studentId, createdAtMs: 1e12, manner: 'strict', dueOn: '2026-12-05', text: 'slowly' },
        tests: [attempts[1]!.test as PracticeTest],
        thresholds: { there: 80, close: 50 },
      },
    ],
    blindMarks: [{ id: ID(5), attemptId: ID(101), studentId, rater: 'kt', value: 70, atMs: 1e12 }],
    settings: [{ key: 'k', value: { a: [1, null, 'x'] } }],
    sittings: [{ id: ID(6), studentId, atMs: 1e12, run: sampleSitting(ID(6), ID(100)) }],
  };
  const sound: SavedAudio = {
    ...{ attemptId: ID(100), studentId, order: 1e12, mime: 'audio/webm' },
    bytes: Uint8Array.from({ length: 64 }, (_, i) => i),
  };
  const audio = [{ ...sound, bytes: sound.bytes.length }];
  const json = JSON.parse(
    JSON.stringify({ schema: SCHEMA_VERSION, exportedAtMs: 1e12, records, audio }),
  ) as Json;
  return { json, attachments: [sound.bytes] };
}
export type Json = null | boolean | number | string | Json[] | { [key: string]: Json };

/** A backup written in one piece, beside which what `exportBackup` writes piece by piece is held. */
export const packBackup = ({ exportedAtMs, records, audio }: Backup) =>
  pack(
    'backup',
    { schema: SCHEMA_VERSION, exportedAtMs, records, blocks: [], audio: listAudio(audio) },
    audio.map(({ bytes }) => bytes),
  );

/** A sitting of two stations that is over. */
export const sampleSitting = (id: string, attemptId: string): SittingRun => ({
  ...{ version: 1, id, seed: 5, examiner: true, startedAtMs: 1e12, spentMs: 60_000, sinceMs: null },
  ...{ phase: 'over', at: 2, pick: 0 },
  setup: {
    ...{ version: 1, id, name: 'Mock', instrument: 'guitar', tuning: [40, 45, 50, 55, 59, 64] },
    stations: [
      { what: 'melody', weight: 50, level: 2, count: 1 },
      { what: 'questions', weight: 0, level: 2, count: 2 },
    ],
  },
  stations: [
    {
      ...{ tries: 1, choice: null, order: [], passed: false },
      played: [{ kind: 'melody', attemptId, mark: 80, outcome: 'close', right: null, own: 75 }],
      faults: [{ why: 'microphone-unplugged', atMs: 1e12 }],
    },
    { tries: 0, choice: null, order: [], played: [], faults: [], passed: true },
  ],
});

export const packSample = (sample: ReturnType<typeof sampleBackup>) =>
  pack('backup', sample.json, sample.attachments);

/** The same with its last attempts in packed blocks of these sizes, as most attempts of a long record are. */
export async function withBlocks(
  { json, attachments }: ReturnType<typeof sampleBackup>,
  sizes: readonly number[],
): Promise<ReturnType<typeof sampleBackup>> {
  const copy = structuredClone(json) as any;
  const blocks: Uint8Array<ArrayBuffer>[] = [];
  for (const size of sizes) {
    const attempts = copy.records.attempts.splice(-size);
    blocks.push(await gzipped(new TextEncoder().encode(JSON.stringify(attempts))));
  }
  copy.blocks = listBlocks(blocks.map((gzip) => ({ schema: SCHEMA_VERSION, gzip })));
  return { json: copy, attachments: [...blocks, ...attachments] };
}

type Die = (n: number) => number;

/** Damages the bytes: flips, cuts, repeats, drops, swaps, zeroes; always really different. */
export function damageBytes(file: Uint8Array<ArrayBuffer>, roll: Die): Uint8Array<ArrayBuffer> {
  const copy = file.slice();
  const at = roll(copy.length);
  const length = 1 + roll(64);
  switch (roll(6)) {
    case 0:
      copy[at]! ^= 1 << roll(8);
      return copy;
    case 1:
      return copy.slice(0, at);
    case 2:
      return new Uint8Array([...copy, ...copy.slice(at, at + length)]);
    case 3:
      return new Uint8Array([...copy.slice(0, at), ...copy.slice(at + length)]);
    case 4:
      copy.set(
        copy.slice(at, at + length).map((byte) => ~byte),
        at,
      );
      return copy;
    default: {
      const other = (at + 1 + roll(copy.length - 1)) % copy.length;
      if (copy[at] === copy[other]) copy[at]! ^= 255;
      else [copy[at], copy[other]] = [copy[other]!, copy[at]!];
      return copy;
    }
  }
}

/** All places in the JSON, as [holder, key]. */
function places(value: Json, found: [any, string | number][] = []): [any, string | number][] {
  if (Array.isArray(value)) value.forEach((one, i) => (found.push([value, i]), places(one, found)));
  else if (value !== null && typeof value === 'object')
    for (const key of Object.keys(value)) {
      found.push([value, key]);
      places(value[key]!, found);
    }
  return found;
}

/** What a whole record may leave out: without it the record is whole. */
const OPTIONAL = new Set<string | number>([
  ...['backing', 'blocks', 'source', 'type', 'delayMs', 'driftPpm', 'cancellationDb', 'inStep', 'repeated'],
  ...['repeat', 'slower', 'halves', 'first-note', 'live-note'],
]);

/**
 * Puts what cannot be somewhere into the JSON (under a right checksum): another type, an absurd number, a
 * missing or an unknown key, a doubled row, a broken reference. Settings hold free JSON, so they are left.
 */
export function damageJson(json: Json, roll: Die): { json: Json; what: string } {
  const copy = structuredClone(json) as any;
  const all = places(copy);
  // Free JSON may hold anything: a setting's value, an advice's values.
  const free = new Set<unknown>([copy.records.settings[0]]);
  for (const [holder, key] of all)
    if (key === 'values' || key === 'value') {
      free.add(holder[key]);
      for (const [inner] of places(holder[key])) free.add(inner);
    }
  const fixed = all.filter(([holder]) => !free.has(holder));
  const [holder, key] = fixed[roll(fixed.length)]!;
  const old = holder[key];
  const what = roll(6);
  if (what === 0 && !Array.isArray(holder) && !OPTIONAL.has(key)) delete holder[key];
  else if (what === 1 && !Array.isArray(holder)) holder[`${key}X`] = old;
  else if (what === 2) holder[key] = typeof old === 'number' ? -1e300 : 1e300;
  else if (what === 3) holder[key] = typeof old === 'string' ? { $: old } : 'text, not this';
  else if (what === 4) holder[key] = Array.isArray(old) ? { ...old } : [old];
  else holder[key] = typeof old === 'string' ? 'x'.repeat(20_000) : typeof old === 'boolean' ? 1 : '\u0000';
  return { json: copy, what: `${String(key)}: ${JSON.stringify(old)?.slice(0, 40)} (${what})` };
}
