import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { unpackBackup } from '../../src/store/backup/file.ts';
import { unpack } from '../../src/store/backup/container.ts';
import { SCHEMA_VERSION } from '../../src/store/schema/migrations.ts';
import { packBackup, packSample, sampleBackup, withBlocks } from './support/backup.ts';

const fixture = (name: string) => `${import.meta.dirname}/fixtures/${name}.twobar`;
const read = (name: string) => new Uint8Array(readFileSync(fixture(name)));

// A new schema or container version freezes its first export here, once, and never writes over one that is there:
// TWOBAR_FREEZE=1 npx vitest run --project node tests/store/versions.test.ts
async function freeze(name: string, file: () => Promise<Uint8Array>): Promise<void> {
  if (process.env['TWOBAR_FREEZE'] && !existsSync(fixture(name))) writeFileSync(fixture(name), await file());
}
await freeze(`v${SCHEMA_VERSION}`, () => packSample(sampleBackup(4)));
await freeze('container-2', async () => packSample(await withBlocks(sampleBackup(7), [3, 2])));

/** The version with which a table came. */
const SINCE: Readonly<Record<string, number>> = { sittings: 6 };

describe.each(Array.from({ length: SCHEMA_VERSION }, (_, i) => i + 1))(
  'a file of schema version %i',
  (version) => {
    it('is still read, whole, and can be written again in the present version', async () => {
      const backup = await unpackBackup(read(`v${version}`));
      expect(backup.records.attempts).toHaveLength(4);
      for (const [table, rows] of Object.entries(backup.records))
        if (version >= (SINCE[table] ?? 1)) expect(rows.length, table).toBeGreaterThan(0);
      expect(backup.audio).toHaveLength(1);
      expect(await unpackBackup(await packBackup(backup))).toEqual(backup);
    });
  },
);

describe('a file of container version 2', () => {
  it('is still read: attempts of two blocks and loose ones, each once, and the sound behind them', async () => {
    const file = read('container-2');
    expect(file[8]).toBe(2);
    const { json } = (await unpack(file)) as {
      json: { records: { attempts: unknown[] }; blocks: unknown[] };
    };
    expect([json.records.attempts.length, json.blocks.length]).toEqual([2, 2]);
    const backup = await unpackBackup(file);
    const orders = backup.records.attempts.map(({ order }) => order).sort();
    expect(orders).toEqual(Array.from({ length: 7 }, (_, n) => 1e12 + n));
    for (const [table, rows] of Object.entries(backup.records))
      if (SINCE[table] === undefined) expect(rows.length, table).toBeGreaterThan(0);
    expect(backup.audio.map(({ bytes }) => [...bytes])).toEqual([Array.from({ length: 64 }, (_, i) => i)]);
    expect(await unpackBackup(await packBackup(backup))).toEqual(backup);
  });
});
