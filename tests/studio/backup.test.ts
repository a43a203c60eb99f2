import { execFileSync } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it, onTestFinished } from 'vitest';
import { openDatabase } from '../../studio/database/open.ts';
import { newDatabase, postgresPrograms } from '../support/postgres.ts';
import { sampleAttempt } from '../store/support/sample.ts';
import { fetchOf } from './support/devices.ts';
import { ENGINES, testServer } from './support/server.ts';

/** What the operator's page says to do with a database that was set back to an older copy. */
const NEW_ERA = /`(update studios set era = [^`]+;)`/.exec(
  readFileSync(join(import.meta.dirname, '../../studio/OPERATING.md'), 'utf8'),
)?.[1];

/** Copies a database as the operator's page says. @returns where the copy lies */
type Copy = (where: string) => Promise<string>;
const postgres = ENGINES[1];
const byDump: Copy = async (where) => {
  const bin = postgresPrograms()!;
  const folder = mkdtempSync(join(tmpdir(), 'twobar-dump-'));
  onTestFinished(() => rmSync(folder, { recursive: true }));
  const file = join(folder, 'studio.dump');
  const copy = await newDatabase(postgres!);
  execFileSync(join(bin, 'pg_dump'), ['--format=custom', `--file=${file}`, where]);
  execFileSync(join(bin, 'pg_restore'), ['--dbname', copy, file]);
  return copy;
};
const byFolder: Copy = async (where) => {
  const copy = `${where}-copy`;
  cpSync(where, copy, { recursive: true });
  return copy;
};

it.each([
  ['PGlite’s folder, copied', byFolder],
  ...(postgres === undefined ? [] : ([['PostgreSQL by pg_dump and pg_restore', byDump]] as const)),
] as const)(
  '%s: the copy serves; set back to it, the machines bring what it lacks and nobody who was deleted',
  async (_, copy) => {
    const folder = mkdtempSync(join(tmpdir(), 'twobar-studio-'));
    onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
    const where = copy === byDump ? await newDatabase(postgres!) : join(folder, 'studio');
    const server = await testServer({ at: where });
    const desk = await server.firstDesk();
    const [stays, goes] = [
      await desk.students.add('Stays', 'guitar'),
      await desk.students.add('Goes', 'guitar'),
    ];
    await desk.attempts.finish(null, sampleAttempt(stays.id, 0));
    await desk.sync();
    // A folder is copied while nobody serves it.
    if (copy === byFolder) await server.close();
    const copied = await copy(where);
    const on = copy === byFolder ? await testServer({ at: where }) : server;
    desk.fetch = fetchOf(on.app);
    const later = await desk.attempts.finish(null, sampleAttempt(stays.id, 1));
    await desk.students.remove(goes.id);
    await desk.sync();
    await on.close();

    const db = await openDatabase(copied);
    expect(await db.query('select 1 from items where scope = $1', [goes.id])).not.toEqual([]);
    await db.query(NEW_ERA!);
    await db.close();
    const again = await testServer({ at: copied });
    desk.fetch = fetchOf(again.app);
    await desk.sync();
    const second = again.device();
    await second.joinBy(await desk.invite(null));
    await second.sync();
    expect(await second.attempts.get(later.id)).toEqual(later);
    expect((await second.students.all()).map(({ name }) => name)).toEqual(['Stays']);
    expect(await again.db.query('select 1 from items where scope = $1', [goes.id])).toEqual([]);
    expect(await second.records()).toEqual(await desk.records());
    expect([...server.failures, ...on.failures, ...again.failures]).toEqual([]);
    await again.close();
  },
);
