import type { FastifyInstance } from 'fastify';
import { makeServer } from '../../../studio/app.ts';
import { openDatabase } from '../../../studio/database/open.ts';
import type { Database } from '../../../studio/database/sql.ts';
import type { Rates } from '../../../studio/limits.ts';
import { newStudio } from '../../../studio/setup.ts';
import { newDatabase } from '../../support/postgres.ts';
import { Device, fetchOf } from './devices.ts';

/** Too many to be met by a test that does not ask for it. */
const WIDE: Rates = { address: 1e9, device: 1e9, join: 1e9 };

/**
 * Where the tests keep their studios: PGlite in memory, and the PostgreSQL server that was started for this run
 * (`tests/support/postgres-of-the-run.ts`), in a new database each time.
 */
export const ENGINES: readonly (string | undefined)[] = [
  undefined,
  ...(process.env['TWOBAR_POSTGRES'] ? [process.env['TWOBAR_POSTGRES']] : []),
];
export const engineName = (where: string | undefined): string =>
  where === undefined ? 'PGlite' : 'PostgreSQL';

export interface TestServer {
  readonly app: FastifyInstance;
  readonly db: Database;
  /** What went wrong inside; nothing may. */
  readonly failures: unknown[];
  readonly clock: { nowMs: number | null };
  readonly newStudio: () => Promise<string>;
  /** A new studio with its first teacher's machine. */
  readonly firstDesk: () => Promise<Device>;
  readonly device: () => Device;
  readonly close: () => Promise<void>;
}

/** @param where in memory; in a new database of the PostgreSQL server of this address; or at that very place */
export async function testServer(
  where?: string | { readonly at: string },
  rates: Rates = WIDE,
  soundBytes?: number,
): Promise<TestServer> {
  const place = typeof where === 'string' ? await newDatabase(where) : where?.at;
  const db = await openDatabase(place);
  const failures: unknown[] = [];
  const clock: { nowMs: number | null } = { nowMs: null };
  const now = () => clock.nowMs ?? Date.now();
  const app = await makeServer({
    ...{ db, rates, now, onFailure: (error) => failures.push(error) },
    ...(soundBytes === undefined ? {} : { soundBytes }),
  });
  const device = () => new Device(fetchOf(app));
  return {
    ...{ app, db, failures, clock, device },
    newStudio: () => newStudio(db, now()),
    async firstDesk() {
      const desk = device();
      await desk.founded(await newStudio(db, now()));
      return desk;
    },
    async close() {
      await app.close();
      await db.close();
    },
  };
}
