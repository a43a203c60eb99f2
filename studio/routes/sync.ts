import { LIMITS } from '../../src/studio/wire.ts';
import type { Page, PulledItem, Push, SentItem } from '../../src/studio/wire.ts';
import type { Caller } from '../caller.ts';
import type { Database, Sql } from '../database/sql.ts';
import { MOST_ITEMS } from '../limits.ts';
import { Refused } from '../refused.ts';

/** Takes the next places of a studio. The row stays locked until the end: whoever sees a place sees all before it. */
export async function takePlaces(sql: Sql, studio: string, count: number): Promise<number> {
  const [row] = await sql.query<{ seq: number }>(
    'update studios set seq = seq + $2 where id = $1 returning seq',
    [studio, count],
  );
  return Number(row!.seq) - count + 1;
}

/** A device of an older app would write what the others have left behind, and not understand what they write. */
async function noteSchema(sql: Sql, studio: string, schema: number): Promise<void> {
  const rows = await sql.query(
    'update studios set schema = greatest(schema, $2) where id = $1 and schema <= $2 returning 1',
    [studio, schema],
  );
  if (rows.length === 0) throw new Refused('old-schema');
}

/** A student's device writes for its student, where that student can read it too, and takes nothing away. */
function allow({ role, student, studio }: Caller, { items, drop }: Push): void {
  if (role === 'teacher') {
    if (items.some(({ scope, lane }) => scope === studio && lane !== 'desk'))
      throw new Refused('not-allowed');
    return;
  }
  if (drop.length > 0 || items.some(({ scope, lane }) => scope !== student || lane !== 'shared'))
    throw new Refused('not-allowed');
}

/**
 * Takes rows in: each id once, whatever is repeated. All of a push or nothing.
 * @returns how many were new; when it has resolved they are on the disk
 */
export async function push(
  db: Database,
  caller: Caller,
  given: Push,
  nowMs: number,
): Promise<{ added: number }> {
  allow(caller, given);
  const { studio } = caller;
  return db.transaction(async (sql) => {
    await noteSchema(sql, studio, given.schema);
    const scopes = [...new Set(given.items.map(({ scope }) => scope))];
    const gone = await sql.query('select id from gone where studio = $1 and id = any($2) limit 1', [
      studio,
      scopes,
    ]);
    if (gone.length > 0) throw new Refused('student-gone');
    const known = await sql.query<{ id: string }>('select id from items where studio = $1 and id = any($2)', [
      studio,
      given.items.map(({ id }) => id),
    ]);
    const here = new Set(known.map(({ id }) => id));
    const fresh = given.items.filter(({ id }) => !here.has(id) && here.add(id));
    await checkKeys(sql, studio, fresh);
    if (fresh.length > 0) {
      const first = await takePlaces(sql, studio, fresh.length);
      if (first + fresh.length > MOST_ITEMS) throw new Refused('full');
      // One statement for all: six lists, unfolded side by side.
      await sql.query(
        `insert into items (studio, seq, id, scope, lane, key_id, device, role, body, at)
         select $1, $2 + n - 1, id, scope, lane, key_id, $3, $4, decode(body, 'base64'), $5
         from unnest($6::text[], $7::text[], $8::text[], $9::text[], $10::text[])
           with ordinality as given (id, scope, lane, key_id, body, n)`,
        [
          ...[studio, first, caller.device, caller.role, new Date(nowMs)],
          ...[fresh.map(({ id }) => id), fresh.map(({ scope }) => scope), fresh.map(({ lane }) => lane)],
          ...[fresh.map(({ keyId }) => keyId), fresh.map(({ body }) => plainBase64(body))],
        ],
      );
    }
    if (given.drop.length > 0)
      await sql.query('delete from items where studio = $1 and id = any($2)', [studio, given.drop]);
    return { added: fresh.length };
  });
}

/** Rows are written with a key of their own lane that nobody who was removed holds. */
export async function checkKeys(
  sql: Sql,
  studio: string,
  items: readonly Pick<SentItem, 'keyId' | 'scope' | 'lane'>[],
): Promise<void> {
  const ids = [...new Set(items.map(({ keyId }) => keyId))];
  if (ids.length === 0) return;
  const keys = await sql.query<{ id: string; scope: string; retired: boolean }>(
    'select id, scope, retired from keys where studio = $1 and id = any($2)',
    [studio, ids],
  );
  const byId = new Map(keys.map((key) => [key.id, key]));
  for (const { keyId, scope, lane } of items) {
    const key = byId.get(keyId);
    if (key === undefined || key.scope !== (lane === 'desk' ? studio : scope))
      throw new Refused('unknown-key');
    if (key.retired) throw new Refused('old-key');
  }
}

export const plainBase64 = (url: string): string =>
  url.replaceAll('-', '+').replaceAll('_', '/') + '='.repeat((4 - (url.length % 4)) % 4);

type ItemRow = Omit<PulledItem, 'keyId' | 'body'> & { key_id: string; body: Uint8Array };

/**
 * What came after a place, at most a page of it. The same question gives the same answer, or more.
 * @param knowsSound whether the app understands what is said of the sound of takes; earlier ones refuse what they do not know
 */
export async function pull(
  db: Database,
  caller: Caller,
  { after, schema }: { readonly after: number; readonly schema: number },
  knowsSound: boolean,
): Promise<Page> {
  const { studio, role, student } = caller;
  const [row] = await db.query<{ schema: number; seq: number; era: string; sound: string | null }>(
    'select schema, seq, era, sound from studios where id = $1',
    [studio],
  );
  if (row === undefined || row.schema > schema) throw new Refused('old-schema');
  // Places are given out one after another and seen in that order: whatever is up to here is there by now.
  const until = Number(row.seq);
  const own = role === 'student' ? "and scope = $4 and lane = 'shared'" : '';
  const found = await db.query<ItemRow>(
    `select seq, id, scope, lane, key_id, device, role, body from (
       select *, sum(octet_length(body)) over (order by seq) - octet_length(body) as bytes_before from (
         select * from items where studio = $1 and seq > $2 and seq <= $3 ${own}
         order by seq limit ${LIMITS.items + 1}
       ) as found
     ) as sized where bytes_before < ${LIMITS.pageBytes} order by seq`,
    role === 'student' ? [studio, after, until, student] : [studio, after, until],
  );
  const items = found.slice(0, LIMITS.items).map(({ key_id, body, seq, ...rest }) => ({
    ...{ seq: Number(seq), id: rest.id, scope: rest.scope, lane: rest.lane, keyId: key_id },
    ...{ body: Buffer.from(body).toString('base64url'), device: rest.device, role: rest.role },
  }));
  const bytes = found.reduce((sum, { body }) => sum + body.length, 0);
  // A page that may have been cut: the next one says whether anything is left.
  const more = found.length > LIMITS.items || bytes >= LIMITS.pageBytes;
  const next = more ? (items.at(-1)?.seq ?? until) : until;
  // In their place among the rows: what was moved away from a student before they were deleted has been seen by then.
  const gone =
    role === 'student'
      ? []
      : await db.query<{ id: string }>(
          'select id from gone where studio = $1 and seq > $2 and seq <= $3 and length(id) = 32',
          [studio, after, next],
        );
  return {
    ...{ era: row.era, items, gone: gone.map(({ id }) => id) },
    ...{ next, more },
    ...(knowsSound ? { sound: row.sound } : {}),
  };
}
