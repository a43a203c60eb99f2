import { join } from 'node:path';
import Postgrator from 'postgrator';
import { openPglite } from './pglite.ts';
import { openPostgres } from './postgres.ts';
import type { Database } from './sql.ts';

/** Of the lock under which two servers of one database bring it up to date one after the other; any number of our own. */
const LOCK = 7_620_441;
const MIGRATIONS = join(import.meta.dirname, '../migrations/*.sql');

/**
 * Opens the database and brings it up to date.
 * @param where `postgres://…`, a folder for the embedded one, or undefined for one in memory
 * @throws Error when a migration that was run has been changed since, or the database was written by a newer server
 */
export async function openDatabase(where?: string): Promise<Database> {
  const db = where && /^postgres(ql)?:/.test(where) ? openPostgres(where) : await openPglite(where);
  try {
    await migrate(db);
  } catch (error) {
    await db.close();
    throw error;
  }
  return db;
}

const migrate = (db: Database): Promise<void> =>
  db.transaction(async (held) => {
    await held.query('select pg_advisory_xact_lock($1)', [LOCK]);
    const postgrator = new Postgrator({
      migrationPattern: MIGRATIONS,
      driver: 'pg',
      schemaTable: 'schemaversion',
      execQuery: async (query) => ({ rows: await held.query(query) }),
      execSqlScript: async (script) => {
        // One statement at a time: all migrations are one transaction. Comments hold no semicolons, functions are not used.
        const bare = script.replace(/--.*$/gm, '');
        for (const statement of bare.split(';').filter((one) => one.trim() !== ''))
          await held.query(statement);
      },
    });
    const known = Math.max(...(await postgrator.getMigrations()).map(({ version }) => version));
    const there = await postgrator.getDatabaseVersion();
    if (there > known)
      throw new Error(`The database is of version ${there}, this server knows ${known}: update it.`);
    await postgrator.migrate();
  });
