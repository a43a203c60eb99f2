import { id as idSchema } from '../../src/studio/wire.ts';
import type { DeviceRow, Invite, Join, Joined, NewKeys, Role } from '../../src/studio/wire.ts';
import * as v from 'valibot';
import { hashOf, sameHash } from '../caller.ts';
import type { Caller } from '../caller.ts';
import type { Database, Sql } from '../database/sql.ts';
import { MOST_DEVICES, MOST_INVITES } from '../limits.ts';
import { Refused } from '../refused.ts';
import { addKeys } from './keys.ts';
import { takePlaces } from './sync.ts';

/** A teacher asks a device in. The parcel is opened by what stands in the link, which the server never sees. */
export const makeInvite = (db: Database, { studio }: Caller, given: Invite, nowMs: number): Promise<void> =>
  db.transaction(async (sql) => {
    const gone = await sql.query('select 1 from gone where studio = $1 and id = $2', [studio, given.student]);
    if (gone.length > 0) throw new Refused('student-gone');
    if ((given.role === 'student') !== (given.student !== null)) throw new Refused('malformed');
    await sql.query('delete from invites where studio = $1 and expires_at < $2', [studio, new Date(nowMs)]);
    const [waiting] = await sql.query<{ n: number }>('select count(*) as n from invites where studio = $1', [
      studio,
    ]);
    if (Number(waiting!.n) >= MOST_INVITES) throw new Refused('full');
    await sql.query(
      `insert into invites (studio, id, role, student, token_hash, parcel, expires_at)
       values ($1, $2, $3, $4, $5, $6, $7) on conflict do nothing`,
      [
        ...[studio, given.id, given.role, given.student, hashOf(given.token), given.parcel],
        new Date(nowMs + given.expiresInSec * 1000),
      ],
    );
  });

export const withdrawInvite = async (db: Database, { studio }: Caller, id: string): Promise<void> =>
  void (await db.query('delete from invites where studio = $1 and id = $2 and used_by is null', [
    studio,
    id,
  ]));

/**
 * Takes a device in by an invitation, which is then used up. The same device may ask again, as its answer may have been
 * lost on the way. @throws Refused 'bad-invite', and does not say why
 */
export const join = (db: Database, given: Join, nowMs: number): Promise<Joined> =>
  db.transaction(async (sql) => {
    const { studio, device } = given;
    const [found] = await sql.query<{
      role: Role;
      student: string | null;
      token_hash: string;
      parcel: string | null;
      expires_at: Date;
      used_by: string | null;
    }>(
      `select role, student, token_hash, parcel, expires_at, used_by from invites
       where studio = $1 and id = $2 for update`,
      [studio, given.invite],
    );
    const right = sameHash(found?.token_hash ?? hashOf(''), hashOf(given.inviteToken));
    if (!right || found === undefined || found.expires_at.getTime() <= nowMs) throw new Refused('bad-invite');
    const { role, student, parcel } = found;
    const token = hashOf(device.token);
    if (found.used_by !== null) {
      const [here] = await sql.query<{ token_hash: string }>(
        'select token_hash from devices where studio = $1 and id = $2',
        [studio, found.used_by],
      );
      if (found.used_by !== device.id || here === undefined || !sameHash(here.token_hash, token))
        throw new Refused('bad-invite');
      return { role, student, parcel };
    }
    const [count] = await sql.query<{ n: number }>('select count(*) as n from devices where studio = $1', [
      studio,
    ]);
    if (Number(count!.n) >= MOST_DEVICES) throw new Refused('full');
    const added = await sql.query(
      `insert into devices (studio, id, role, student, token_hash, public_key, created_at, last_seen)
       values ($1, $2, $3, $4, $5, $6, $7, $7) on conflict do nothing returning 1`,
      [studio, device.id, role, student, token, device.publicKey, new Date(nowMs)],
    );
    if (added.length === 0) throw new Refused('bad-invite');
    await sql.query('update invites set used_by = $3 where studio = $1 and id = $2', [
      studio,
      given.invite,
      device.id,
    ]);
    return { role, student, parcel };
  });

export const introduce = async (
  db: Database,
  { studio, device }: Caller,
  { label, certificate }: { readonly label: string; readonly certificate: string },
): Promise<void> =>
  void (await db.query('update devices set label = $3, certificate = $4 where studio = $1 and id = $2', [
    ...[studio, device, label, certificate],
  ]));

export async function listDevices(db: Database, { studio, device }: Caller): Promise<DeviceRow[]> {
  const rows = await db.query<{
    id: string;
    role: Role;
    student: string | null;
    public_key: string;
    label: string | null;
    certificate: string | null;
    created_at: Date;
    last_seen: Date;
  }>(
    `select id, role, student, public_key, label, certificate, created_at, last_seen
     from devices where studio = $1 order by created_at, id`,
    [studio],
  );
  return rows.map(({ public_key, created_at, last_seen, ...rest }) => ({
    ...{ id: rest.id, role: rest.role, student: rest.student, publicKey: public_key, label: rest.label },
    ...{ certificate: rest.certificate, createdAtMs: created_at.getTime(), lastSeenMs: last_seen.getTime() },
    self: rest.id === device,
  }));
}

/**
 * Removes a device and, in the same moment, puts new keys in the place of all that it held. Every device that stays must
 * get its envelopes: whoever lists other devices than there are is told to look again.
 */
export const removeDevice = (
  db: Database,
  { studio }: Caller,
  removed: string,
  given: NewKeys,
): Promise<void> =>
  db.transaction(async (sql) => {
    // One removal after another: the row of the studio is locked until the end.
    await takePlaces(sql, studio, 1);
    const [row] = await sql.query<{ role: Role; student: string | null }>(
      'delete from devices where studio = $1 and id = $2 returning role, student',
      [studio, removed],
    );
    if (row === undefined) throw new Refused('not-found');
    const ofStudent = row.role === 'student';
    await sql.query(
      `update keys set retired = true where studio = $1 ${ofStudent ? 'and scope = $2' : ''}`,
      ofStudent ? [studio, row.student] : [studio],
    );
    const staying = await sql.query<{ id: string; role: Role; student: string | null }>(
      'select id, role, student from devices where studio = $1 and certificate is not null',
      [studio],
    );
    const scopes = await sql.query<{ scope: string }>(
      `select distinct scope from keys where studio = $1 ${ofStudent ? 'and scope = $2' : ''}`,
      ofStudent ? [studio, row.student] : [studio],
    );
    const wanted = scopes.flatMap(({ scope }) =>
      staying
        .filter(({ student, role }) => (scope === studio ? role === 'teacher' : student === scope))
        .map(({ id }) => `${scope} ${id}`),
    );
    const scopeOf = new Map(given.keys.map(({ id, scope }) => [id, scope]));
    const sent = new Set(given.envelopes.map(({ keyId, device }) => `${scopeOf.get(keyId)} ${device}`));
    const covered = new Set(given.keys.map(({ scope }) => scope));
    if (
      wanted.some((one) => !sent.has(one)) ||
      sent.size !== wanted.length ||
      scopes.some(({ scope }) => !covered.has(scope)) ||
      covered.size !== scopes.length
    )
      throw new Refused('devices-changed');
    // An invitation that waits carries the keys that the removed device holds.
    await withdrawAll(sql, studio, ofStudent ? row.student : null);
    await addKeys(sql, studio, given);
  });

const withdrawAll = (sql: Sql, studio: string, student: string | null): Promise<unknown> =>
  sql.query(
    `delete from invites where studio = $1 and used_by is null ${student === null ? '' : 'and student = $2'}`,
    student === null ? [studio] : [studio, student],
  );

/** Deletes a student: rows, keys, sound, devices, invitations. What stays is a random id, and one for each device to be told. */
export const deleteStudent = (db: Database, { studio }: Caller, student: string): Promise<void> =>
  db.transaction(async (sql) => {
    if (!v.is(idSchema, student) || student === studio) throw new Refused('not-found');
    const seq = await takePlaces(sql, studio, 1);
    const devices = await sql.query<{ token_hash: string }>(
      'delete from devices where studio = $1 and student = $2 returning token_hash',
      [studio, student],
    );
    await sql.query('delete from invites where studio = $1 and student = $2', [studio, student]);
    await sql.query('delete from items where studio = $1 and scope = $2', [studio, student]);
    await sql.query('delete from keys where studio = $1 and scope = $2', [studio, student]);
    await sql.query('delete from sounds where studio = $1 and student = $2', [studio, student]);
    for (const id of [student, ...devices.map(({ token_hash }) => token_hash)])
      await sql.query('insert into gone (studio, id, seq) values ($1, $2, $3) on conflict do nothing', [
        studio,
        id,
        seq,
      ]);
  });
