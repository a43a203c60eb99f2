import { describe, expect, it } from 'vitest';
import { pack } from '../../src/store/backup/container.ts';
import { unpackBackup } from '../../src/store/backup/file.ts';
import { gzipped } from '../../src/store/gzip.ts';
import { SCHEMA_VERSION } from '../../src/store/schema/migrations.ts';
import { ImportProblem } from '../../src/store/index.ts';
import { damageBytes, damageJson, ID, sampleBackup, withBlocks } from './support/backup.ts';
import { die } from './support/sample.ts';

const whole = sampleBackup(3);
const sample = { ...(await withBlocks(whole, [1])), all: whole.json };

const packed = () => pack('backup', sample.json, sample.attachments);

/** The code of the refusal; anything accepted, or thrown as another error, comes back as a text that says so. */
async function verdictOn(file: Uint8Array<ArrayBuffer>): Promise<string> {
  try {
    await unpackBackup(file);
    return 'ACCEPTED';
  } catch (error) {
    return error instanceof ImportProblem ? error.code : `CRASHED ${String(error)}`;
  }
}

describe('a backup file', () => {
  it('that is whole is accepted and gives back what was packed', async () => {
    const { records, audio } = await unpackBackup(await packed());
    expect(records).toEqual((sample.all as any).records);
    expect(audio[0]!.bytes).toEqual(sample.attachments[1]);
  });

  it('damaged in its bytes is refused, 1,000 ways (seed 11)', async () => {
    const file = await packed();
    const roll = die(11);
    const codes = new Map<string, number>();
    for (let i = 0; i < 1000; i++) {
      const code = await verdictOn(damageBytes(file, roll));
      codes.set(code, (codes.get(code) ?? 0) + 1);
    }
    // Which of them come up is the seed's: of 1,000 places a handful are the version's or the name's.
    const refusals = ['corrupt', 'newer-version', 'not-ours', 'truncated'];
    expect([...codes.keys()].filter((code) => !refusals.includes(code))).toEqual([]);
    expect(codes.get('corrupt')).toBeGreaterThan(300);
    file[8] = 99;
    expect(await verdictOn(file)).toBe('newer-version');
  });

  it('that holds what cannot be, under a right checksum, is refused, 1,000 ways (seed 12)', async () => {
    const roll = die(12);
    const wrong: string[] = [];
    for (let i = 0; i < 1000; i++) {
      const { json, what } = damageJson(sample.json, roll);
      const code = await verdictOn(await pack('backup', json, sample.attachments));
      if (code !== 'invalid' && code !== 'newer-version') wrong.push(`${code}: ${what}`);
    }
    expect(wrong).toEqual([]);
  });

  it.each([
    ['nothing', new Uint8Array(0), 'not-ours'],
    ['a picture', new Uint8Array([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, 0, 0]), 'not-ours'],
    ['the first ten bytes', null, 'truncated'],
  ])('that is %s is refused', async (_, bytes, code) => {
    expect(await verdictOn(bytes ?? (await packed()).slice(0, 10))).toBe(code);
  });

  it('of a later schema is refused as newer, not as broken', async () => {
    const later = { ...(sample.json as object), schema: SCHEMA_VERSION + 1 };
    expect(await verdictOn(await pack('backup', later, sample.attachments))).toBe('newer-version');
  });

  it.each([
    ['an attempt of nobody', (r: any) => (r.students = [])],
    ['an override of no attempt', (r: any) => (r.overrides[0].attemptId = 'f'.repeat(32))],
    ['an override of another student’s attempt', (r: any) => (r.overrides[0].studentId = 'f'.repeat(32))],
    ['an override of a verdict that is not there', (r: any) => (r.overrides[0].verdicts[0].index = 9999)],
    ['an id twice', (r: any) => r.attempts.push(r.attempts[0])],
    ['overlapping notes', (r: any) => (r.attempts[0].test.phrase.notes[0].durationTicks = 99_999)],
    [
      'a verdict on a note that was not played',
      (r: any) => (r.attempts[0].mark.verdicts[0].playedIndex = 4999),
    ],
  ])('with %s is refused', async (_, damage) => {
    const json = structuredClone(sample.json) as any;
    damage(json.records);
    expect(await verdictOn(await pack('backup', json, sample.attachments))).toBe('invalid');
  });

  it('whose sound does not fit its list to the byte is refused', async () => {
    const [block] = sample.attachments;
    expect(await verdictOn(await pack('backup', sample.json, [block!, new Uint8Array(63)]))).toBe('invalid');
  });

  it.each([
    ['an attempt that stands outside it too', (one: any) => [one, { ...one, id: ID(100) }], 'invalid'],
    ['an attempt of nobody', (one: any) => [{ ...one, studentId: ID(9) }], 'invalid'],
    ['what is no attempt', (one: any) => [{ ...one, take: null }], 'invalid'],
    ['no list', (one: any) => ({ one }), 'invalid'],
    ['no gzip', () => null, 'corrupt'],
  ])('whose packed block holds %s is refused', async (_, change, code) => {
    const last = (sample.all as any).records.attempts.at(-1);
    const changed = change(last);
    const gzip = changed
      ? await gzipped(new TextEncoder().encode(JSON.stringify(changed)))
      : new Uint8Array(9);
    const json = { ...(sample.json as object), blocks: [{ schema: SCHEMA_VERSION, bytes: gzip.length }] };
    expect(await verdictOn(await pack('backup', json, [gzip, sample.attachments[1]!]))).toBe(code);
  });

  it('cut anywhere is told as cut off, in its JSON as in what lies behind it', async () => {
    const file = await packed();
    for (const length of [20, 50, 51, 60, Math.floor(file.length / 2), file.length - 65, file.length - 1])
      expect(await verdictOn(file.slice(0, length)), `${length} bytes`).toBe('truncated');
  });

  it('whose block is of a later schema is refused as newer', async () => {
    const json = structuredClone(sample.json) as any;
    json.blocks[0].schema = SCHEMA_VERSION + 1;
    expect(await verdictOn(await pack('backup', json, sample.attachments))).toBe('newer-version');
  });
});
