import { PGlite } from '@electric-sql/pglite';
import type { Results } from '@electric-sql/pglite';
import type { Database, Rows } from './sql.ts';

/** PostgreSQL compiled to WebAssembly, in this process. @param folder where its files lie; undefined: in memory */
export async function openPglite(folder?: string): Promise<Database> {
  const db = await PGlite.create(folder === undefined ? {} : { dataDir: folder });
  const rows = <T>({ rows: found }: Results<T>): Rows<T> => found;
  return {
    engine: 'pglite',
    query: async (text, values = []) => rows(await db.query(text, [...values])),
    transaction: (job) =>
      db.transaction((tx) =>
        job({ query: async (text, values = []) => rows(await tx.query(text, [...values])) }),
      ),
    close: () => db.close(),
  };
}
