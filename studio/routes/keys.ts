import type { KeyRing, NewKeys } from '../../src/studio/wire.ts';
import type { Caller } from '../caller.ts';
import type { Database, Sql } from '../database/sql.ts';
import { Refused } from '../refused.ts';
import { takePlaces } from './sync.ts';

/** The keys that a device may have: a teacher all that a studio key opens, a student those sealed to the device. */
export async function keyRing(db: Database, { studio, role, student, device }: Caller): Promise<KeyRing> {
  const keys = await db.query<{
    id: string;
    scope: string;
    wrapped_by: string | null;
    wrapped: string | null;
    retired: boolean;
  }>(
    `select id, scope, wrapped_by, wrapped, retired from keys where studio = $1
     ${role === 'student' ? 'and scope = $2' : ''} order by seq`,
    role === 'student' ? [studio, student] : [studio],
  );
  const envelopes = await db.query<{ key_id: string; sealed: string }>(
    'select key_id, sealed from envelopes where studio = $1 and device = $2',
    [studio, device],
  );
  return {
    keys: keys.map(({ id, scope, wrapped_by, wrapped, retired }) => ({
      ...{ id, scope, retired },
      ...(role === 'student' ? { wrappedBy: null, wrapped: null } : { wrappedBy: wrapped_by, wrapped }),
    })),
    envelopes: envelopes.map(({ key_id, sealed }) => ({ keyId: key_id, device, sealed })),
  };
}

/** Adds keys; those that are here already stay as they are. Only inside a transaction. */
export async function addKeys(sql: Sql, studio: string, { keys, envelopes }: NewKeys): Promise<void> {
  if (keys.length > 0) {
    const first = await takePlaces(sql, studio, keys.length);
    await sql.query(
      `insert into keys (studio, seq, id, scope, wrapped_by, wrapped)
       select $1, $2 + n - 1, id, scope, wrapped_by, wrapped
       from unnest($3::text[], $4::text[], $5::text[], $6::text[])
         with ordinality as given (id, scope, wrapped_by, wrapped, n)
       on conflict do nothing`,
      [
        ...[studio, first, keys.map(({ id }) => id), keys.map(({ scope }) => scope)],
        ...[keys.map(({ wrappedBy }) => wrappedBy), keys.map(({ wrapped }) => wrapped)],
      ],
    );
  }
  if (envelopes.length === 0) return;
  const ids = [...new Set(envelopes.map(({ keyId }) => keyId))];
  const devices = [...new Set(envelopes.map(({ device }) => device))];
  const known = await sql.query('select 1 from keys where studio = $1 and id = any($2)', [studio, ids]);
  if (known.length < ids.length) throw new Refused('unknown-key');
  const there = await sql.query('select 1 from devices where studio = $1 and id = any($2)', [
    studio,
    devices,
  ]);
  if (there.length < devices.length) throw new Refused('devices-changed');
  await sql.query(
    `insert into envelopes (studio, key_id, device, sealed)
     select $1, * from unnest($2::text[], $3::text[], $4::text[]) on conflict do nothing`,
    [
      ...[studio, envelopes.map(({ keyId }) => keyId), envelopes.map(({ device }) => device)],
      ...[envelopes.map(({ sealed }) => sealed)],
    ],
  );
}

/**
 * Keys for students that are new. Nobody may add one in the place of the studio's own: those change only with a
 * removal, but for the very first.
 */
export const newKeys = (db: Database, { studio }: Caller, given: NewKeys): Promise<void> =>
  db.transaction(async (sql) => {
    const scopes = given.keys.map(({ scope }) => scope);
    const [taken] = await sql.query<{ gone: number; own: number }>(
      `select (select count(*) from gone where studio = $1 and id = any($2)) as gone,
              (select count(*) from keys where studio = $1 and scope = $1 and not (id = any($3))) as own`,
      [studio, scopes, given.keys.map(({ id }) => id)],
    );
    if (Number(taken!.gone) > 0) throw new Refused('student-gone');
    if (scopes.includes(studio) && Number(taken!.own) > 0) throw new Refused('not-allowed');
    await addKeys(sql, studio, given);
  });
