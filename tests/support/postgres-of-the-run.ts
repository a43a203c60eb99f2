import { postgresPrograms, startPostgres } from './postgres.ts';

/**
 * Before the tests of a project: a PostgreSQL server for all of them, whose address stands in `TWOBAR_POSTGRES`. Whoever
 * sets that themselves gives the address of a server on which databases may be made.
 * @returns what ends it
 */
export default async function run(): Promise<(() => Promise<void>) | undefined> {
  if (process.env['TWOBAR_POSTGRES']) return undefined;
  const bin = postgresPrograms();
  if (bin === null) return undefined;
  const server = await startPostgres(bin, { hasty: true });
  process.env['TWOBAR_POSTGRES'] = server.url;
  return async () => {
    delete process.env['TWOBAR_POSTGRES'];
    await server.remove();
  };
}
