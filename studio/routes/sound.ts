import type { DeletedSounds, SoundHeld, SoundPart, SoundState, SoundsOf } from '../../src/studio/wire.ts';
import type { Caller } from '../caller.ts';
import type { Database, Sql } from '../database/sql.ts';
import { Refused } from '../refused.ts';
import { checkKeys, plainBase64 } from './sync.ts';

/** What a part costs beside its bytes, so that many empty ones have an end too. */
const ROW_BYTES = 4096;

/** A student's device has to do with the sound of its own student alone. */
function allow({ role, student: own }: Caller, student: string): void {
  if (role === 'student' && student !== own) throw new Refused('not-allowed');
}

/**
 * The next place among the sounds. The row of the studio stays locked until the end: one change after the other.
 * @throws Refused 'not-found' where the studio has not turned it on
 */
async function takePlace(sql: Sql, studio: string): Promise<number> {
  const [row] = await sql.query<{ sound_seq: number }>(
    'update studios set sound_seq = sound_seq + 1 where id = $1 and sound is not null returning sound_seq',
    [studio],
  );
  if (row === undefined) throw new Refused('not-found');
  return Number(row.sound_seq);
}

/** Whether it is on, and what lies there. @param mostBytes that a studio may hold; 0: no sound on this server */
export async function soundState(db: Database, { studio }: Caller, mostBytes: number): Promise<SoundState> {
  const [row] = await db.query<{ sound: string | null; takes: number; bytes: number }>(
    `select sound, (select count(*) from sounds where studio = $1 and not gone) as takes,
       (select coalesce(sum(bytes), 0) from sounds where studio = $1) as bytes
     from studios where id = $1`,
    [studio],
  );
  return {
    ...{ on: (row?.sound ?? null) !== null, takes: Number(row!.takes), bytes: Number(row!.bytes) },
    mostBytes,
  };
}

/** Turns it on or off; off: what lies there is deleted. Twice is once. @param newId a random id */
export const switchSound = (
  db: Database,
  { studio }: Caller,
  on: boolean,
  { mostBytes, newId }: { readonly mostBytes: number; readonly newId: () => string },
): Promise<void> =>
  db.transaction(async (sql) => {
    if (on && mostBytes === 0) throw new Refused('full');
    await sql.query('select 1 from studios where id = $1 for update', [studio]);
    if (on)
      return void (await sql.query('update studios set sound = coalesce(sound, $2) where id = $1', [
        studio,
        newId(),
      ]));
    await sql.query('update studios set sound = null where id = $1', [studio]);
    await sql.query('delete from sounds where studio = $1', [studio]);
  });

/** Which parts of these attempts' sound are here. One that was deleted is as good as here: nothing more of it is taken. */
export async function heldSound(
  db: Database,
  caller: Caller,
  { student, attempts }: SoundsOf,
): Promise<SoundHeld> {
  allow(caller, student);
  const { studio } = caller;
  const rows = await db.query<{ attempt: string; parts: number; gone: boolean; here: number[] }>(
    `select attempt, parts, gone, array(select part from sound_parts p where p.studio = s.studio
       and p.attempt = s.attempt and p.student = s.student order by part) as here
     from sounds s where studio = $1 and student = $2 and attempt = any($3)`,
    [studio, student, attempts],
  );
  return { held: rows.map(({ attempt, parts, gone, here }) => ({ attempt, parts, gone, here })) };
}

/** Takes a part in: each once, whatever is repeated; nothing takes the place of what is here. */
export const putSound = (db: Database, caller: Caller, given: SoundPart, mostBytes: number): Promise<void> =>
  db.transaction(async (sql) => {
    const { studio } = caller;
    const { student, attempt, keyId, part, parts, body } = given;
    allow(caller, student);
    if (part >= parts || student === studio) throw new Refused('malformed');
    const seq = await takePlace(sql, studio);
    const gone = await sql.query('select 1 from gone where studio = $1 and id = $2', [studio, student]);
    if (gone.length > 0) throw new Refused('student-gone');
    await checkKeys(sql, studio, [{ keyId, scope: student, lane: 'shared' }]);
    const own = [studio, attempt, student];
    const [here] = await sql.query<{ parts: number; gone: boolean }>(
      'select parts, gone from sounds where studio = $1 and attempt = $2 and student = $3',
      own,
    );
    if (here?.gone) return;
    if (here !== undefined && here.parts !== parts) throw new Refused('malformed');
    const size = ROW_BYTES + Math.floor((body.length * 3) / 4);
    if (size * parts > mostBytes) throw new Refused('full');
    if (here === undefined)
      await sql.query(
        `insert into sounds (studio, attempt, student, seq, parts, bytes)
         values ($1, $2, $3, $4, $5, 0)`,
        [...own, seq, parts],
      );
    const added = await sql.query(
      `insert into sound_parts (studio, attempt, student, part, key_id, body)
       values ($1, $2, $3, $4, $5, decode($6, 'base64')) on conflict do nothing returning 1`,
      [...own, part, keyId, plainBase64(body)],
    );
    if (added.length === 0) return;
    await sql.query(
      'update sounds set bytes = bytes + $4 where studio = $1 and attempt = $2 and student = $3',
      [...own, size],
    );
    await makeRoom(sql, given, studio, mostBytes);
  });

/**
 * The oldest makes room: of the student who takes up the most, so that nobody's device can push out what others have
 * played.
 */
async function makeRoom(
  sql: Sql,
  { attempt }: Pick<SoundPart, 'attempt'>,
  studio: string,
  mostBytes: number,
): Promise<void> {
  for (;;) {
    const most = await sql.query<{ student: string; bytes: number; all: number }>(
      `select student, sum(bytes) as bytes, (select sum(bytes) from sounds where studio = $1) as all
       from sounds where studio = $1 group by student order by sum(bytes) desc, student limit 1`,
      [studio],
    );
    if (most[0] === undefined || Number(most[0].all) <= mostBytes) return;
    const left = await sql.query(
      `delete from sounds where studio = $1 and student = $2 and attempt = (
         select attempt from sounds where studio = $1 and student = $2 and bytes > 0
         order by attempt = $3, seq limit 1) returning 1`,
      [studio, most[0].student, attempt],
    );
    if (left.length === 0) return;
  }
}

/** One part of a sound that is wholly here. @throws Refused 'not-found' */
export async function getSound(
  db: Database,
  caller: Caller,
  attempt: string,
  { student, part }: { readonly student: string; readonly part: number },
): Promise<SoundPart> {
  allow(caller, student);
  const [row] = await db.query<{ key_id: string; parts: number; body: Uint8Array }>(
    `select key_id, parts, body from sound_parts join sounds using (studio, attempt, student)
     where studio = $1 and attempt = $2 and student = $3 and part = $4 and not gone
       and parts = (select count(*) from sound_parts where studio = $1 and attempt = $2 and student = $3)`,
    [caller.studio, attempt, student, part],
  );
  if (row === undefined) throw new Refused('not-found');
  return {
    ...{ student, attempt, keyId: row.key_id, part, parts: row.parts },
    body: Buffer.from(row.body).toString('base64url'),
  };
}

/**
 * Deletes the sound of attempts that were deleted, of which nothing is taken any more though it be on its way, or of
 * attempts that were moved to another student.
 */
export const deleteSounds = (db: Database, { studio }: Caller, { sounds }: DeletedSounds): Promise<void> =>
  db.transaction(async (sql) => {
    const seq = await takePlace(sql, studio);
    for (const { student, attempt, ended } of sounds) {
      const own = [studio, attempt, student];
      await sql.query('delete from sounds where studio = $1 and attempt = $2 and student = $3', own);
      if (ended)
        await sql.query(
          `insert into sounds (studio, attempt, student, seq, parts, bytes, gone)
           values ($1, $2, $3, $4, 0, 0, true)`,
          [...own, seq],
        );
    }
  });
