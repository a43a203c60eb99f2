import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { unpackBackup } from '../../src/store/backup/file.ts';
import { SCHEMA_VERSION } from '../../src/store/schema/migrations.ts';
import { packBackup, packSample, sampleBackup } from './support/backup.ts';

const path = (version: number) => `${import.meta.dirname}/fixtures/v${version}.twobar`;

// A new schema version freezes its first export here, once, and never writes over one that is there:
// TWOBAR_FREEZE=1 npx vitest run --project node tests/store/versions.test.ts
if (process.env['TWOBAR_FREEZE'] && !existsSync(path(SCHEMA_VERSION)))
  writeFileSync(path(SCHEMA_VERSION), await packSample(sampleBackup(4)));

describe.each(Array.from({ length: SCHEMA_VERSION }, (_, i) => i + 1))(
  'a file of schema version %i',
  (version) => {
    it('is still read, whole, and can be written again in the present version', async () => {
      const file = new Uint8Array(readFileSync(path(version)));
      const backup = await unpackBackup(file);
      expect(backup.records.attempts).toHaveLength(4);
      for (const rows of Object.values(backup.records)) expect(rows.length).toBeGreaterThan(0);
      expect(backup.audio).toHaveLength(1);
      expect(await unpackBackup(await packBackup(backup))).toEqual(backup);
    });
  },
);
