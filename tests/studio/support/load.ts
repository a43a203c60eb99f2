import { setTimeout as pause } from 'node:timers/promises';
import { SCHEMA_VERSION } from '../../../src/store/schema/migrations.ts';
import { newId, randomBytes, toBase64Url } from '../../../src/studio/bytes.ts';
import { apiOf, begin, invite, join, readInvitation, StudioProblem } from '../../../src/studio/index.ts';
import type { Fetch, Membership } from '../../../src/studio/index.ts';
import type { Database } from '../../../studio/database/sql.ts';

/** Bytes of an encrypted row: a take packs to 2 kB. */
const ROW_BYTES = 1800;

/** A device that pushes and pulls without a record: the server cannot tell its rows from real ones. */
export interface Client {
  readonly member: Membership;
  readonly api: Awaited<ReturnType<typeof apiOf>>;
}

export const rowFor = ({ studio, keys }: Membership) => ({
  ...{ id: newId(), scope: studio, lane: 'desk' as const, keyId: keys[0]!.id },
  body: toBase64Url(randomBytes(ROW_BYTES)),
});

/** The devices of one studio, all of them desks. @param link to its first machine */
export async function clientsOf(fetch: Fetch, link: string, count: number): Promise<Client[]> {
  const enter = async (member: Membership): Promise<Client> => ({
    member,
    api: await apiOf(fetch, '', member),
  });
  const first = await enter(await join(fetch, '', begin(readInvitation(link, true)!, 'first')));
  const all = [first];
  while (all.length < count) {
    const { invitation } = await invite(first.api, first.member, null, 600);
    all.push(await enter(await join(fetch, '', begin(invitation, 'more'))));
  }
  return all;
}

/** What the network, a server that fell over and one that is asked too often do; all else is a mistake. */
const PASSING_MS: Partial<Record<StudioProblem['code'], number>> = {
  offline: 25,
  failed: 250,
  'too-often': 2000,
};
/** A device may ask 600 times a minute; one that pushes and reads along keeps under it. */
const PUSH_EVERY_MS = 120;
const READ_EVERY_MS = 1000;

/** Does it until it succeeds. @returns how often it did not */
export async function untilDone(job: () => Promise<unknown>): Promise<number> {
  for (let failed = 0; ; failed++)
    try {
      await job();
      return failed;
    } catch (error) {
      const waitMs = error instanceof StudioProblem ? PASSING_MS[error.code] : undefined;
      if (waitMs === undefined) throw error;
      await pause(waitMs);
    }
}

export interface Told {
  /** Rows in the order in which they were acknowledged. */
  readonly acknowledged: string[];
  /** Rows as one reader saw them, who never went back. */
  readonly read: string[];
  failed: number;
}

/**
 * Load on one studio: each client pushes so many rows one after the other, each until it is acknowledged; one of them
 * reads along from its cursor, and then what is left.
 */
export async function load(clients: readonly Client[], rows: number): Promise<Told> {
  const told: Told = { acknowledged: [], read: [], failed: 0 };
  let [after, over] = [0, false];
  const reader = clients[0]!;
  const read = async (): Promise<boolean> => {
    const page = await reader.api.pull(after, SCHEMA_VERSION);
    told.read.push(...page.items.map(({ id }) => id));
    after = page.next;
    return page.more;
  };
  const reading = (async () => {
    while (!over) {
      told.failed += await untilDone(read);
      await pause(READ_EVERY_MS);
    }
  })();
  await Promise.all(
    clients.map(async ({ member, api }) => {
      for (let n = 0; n < rows; n++) {
        const push = { schema: SCHEMA_VERSION, items: [rowFor(member)], drop: [] };
        told.failed += await untilDone(() => api.push(push));
        told.acknowledged.push(push.items[0]!.id);
        await pause(PUSH_EVERY_MS);
      }
    }),
  );
  over = true;
  await reading;
  for (let more = true; more;) await untilDone(async () => (more = await read()));
  return told;
}

/** Ids of the rows that lie in a studio, in the order of their places. */
export const rowsOfStudio = async (db: Database, studio: string): Promise<string[]> =>
  (await db.query<{ id: string }>('select id from items where studio = $1 order by seq', [studio])).map(
    ({ id }) => id,
  );
