import type { Change, Cursor, Local, LocalSounds, Membership } from '../../studio/index.ts';
import { LAST_ORDER } from '../context.ts';
import type { Context } from '../context.ts';
import { randomId } from '../ids.ts';
import { asStoreProblem } from '../problem.ts';
import type { StudioRow, VersionRow } from '../rows.ts';
import { SCHEMA_VERSION } from '../schema/migrations.ts';
import { TABLE_NAMES } from '../schema/index.ts';
import type { Json } from '../types.ts';
import { applyPage } from './apply.ts';
import { IN_STUDIO, ownerOf, SHARED_SETTINGS } from './log.ts';
import { DELETED, STANDS } from './rules.ts';

/** How far the sound of takes has been sent, by the places of their attempts. */
interface SoundPlace {
  readonly period: string;
  /** Of the last attempt before this machine learned of the period. */
  readonly from: number;
  readonly after: number;
}

const START: Cursor = { after: 0, era: null };

/** This machine in a studio: its keys, its place, and the record as sync sees it. */
export function studio(context: Context) {
  const { db } = context;
  const get = async <T>(key: StudioRow['key']): Promise<T | null> =>
    ((await db.studio.get(key))?.value as T | undefined) ?? null;
  const put = async (key: StudioRow['key'], value: unknown): Promise<void> =>
    void (await db.studio.put({ key, value: JSON.parse(JSON.stringify(value)) as Json }));
  return {
    /** Null without a studio. */
    member: (): Promise<Membership | null> => asStoreProblem(() => get<Membership>('member')),
    /** Keeps keys that were fetched. */
    keep: (member: Membership): Promise<void> =>
      asStoreProblem(() =>
        // Whoever has left meanwhile stays out.
        db.transaction('rw', db.studio, async () => {
          if ((await get<Membership>('member'))?.device === member.device) await put('member', member);
        }),
      ),
    /** An invitation that is being taken up; null ends it. */
    joining: <T>(): Promise<T | null> => asStoreProblem(() => get<T>('joining')),
    keepJoining: (value: unknown): Promise<void> =>
      asStoreProblem(() => (value === null ? db.studio.delete('joining') : put('joining', value))),
    /** When the last whole round was, ms since 1970; null: never. */
    seen: (): Promise<number | null> => asStoreProblem(() => get<number>('seen')),
    /** Homework that was put before the student: what they have put away does not come back. */
    offered: (): Promise<readonly string[]> =>
      asStoreProblem(async () => (await get<string[]>('offered')) ?? []),
    keepOffered: (ids: readonly string[]): Promise<void> => asStoreProblem(() => put('offered', ids)),
    keepSeen: (ms: number): Promise<void> => asStoreProblem(() => put('seen', ms)),

    /**
     * This machine is in a studio from now on. A desk's whole record goes there; each row is as old as it says, so that
     * nothing that others have changed since is overwritten.
     */
    enter: (member: Membership): Promise<void> =>
      asStoreProblem(() =>
        db.transaction('rw', db.tables, async () => {
          await db.versions.clear();
          await db.studio.clear();
          await put('member', member);
          await db.versions.put({ ...versionOf(member.role, '', '', 0, ''), at: IN_STUDIO, pending: 0 });
          if (member.role !== 'teacher') return;
          const found: VersionRow[] = [];
          for (const table of TABLE_NAMES)
            await db.table<Record<string, unknown>>(table).each((row) => {
              const key = String(row['id'] ?? row['key']);
              if (table === 'settings' && !SHARED_SETTINGS.has(key)) return;
              const at = row['createdAtMs'] ?? row['atMs'];
              found.push(
                versionOf(
                  table,
                  key,
                  ownerOf(table, key, row) ?? '',
                  typeof at === 'number' ? at : 0,
                  randomId(),
                ),
              );
            });
          await db.versions.bulkPut(found);
        }),
      ),

    /** Leaves the studio; the record stays as it is. */
    leave: (): Promise<void> =>
      asStoreProblem(() =>
        db.transaction('rw', [db.versions, db.studio], async () => {
          await db.versions.clear();
          await db.studio.clear();
        }),
      ),

    /** The sound of takes as `sendSounds` wants it. */
    sounds: (): LocalSounds => ({
      next: (period) =>
        asStoreProblem(() =>
          db.transaction('rw', [db.studio, db.meta, db.audio, db.audioSizes], async () => {
            const place = await get<SoundPlace>('sound');
            if (place?.period !== period) {
              // What was kept before, was kept for this machine alone.
              const from = (await db.meta.get(LAST_ORDER))?.value ?? 0;
              await put('sound', { period, from, after: from } satisfies SoundPlace);
              return null;
            }
            const size = await db.audioSizes.where('order').above(place.after).first();
            return (size && (await db.audio.get(size.attemptId))) ?? null;
          }),
        ),
      done: (period, order) =>
        asStoreProblem(() =>
          db.transaction('rw', db.studio, async () => {
            const place = await get<SoundPlace>('sound');
            if (place?.period === period) await put('sound', { ...place, after: order });
          }),
        ),
    }),

    /** The record as `syncOnce` wants it. */
    local: (member: Membership): Local => ({
      schema: SCHEMA_VERSION,
      cursor: () => asStoreProblem(async () => (await get<Cursor>('cursor')) ?? START),
      pending: (most) => asStoreProblem(() => pending(context, member, most)),
      pendingCount: () => asStoreProblem(() => db.versions.where('pending').equals(1).count()),
      sent: (items) =>
        asStoreProblem(() =>
          db.transaction('rw', db.versions, async () => {
            const there = new Set(items);
            await db.versions
              .where('pending')
              .equals(1)
              .filter(({ item }) => there.has(item))
              .modify({ pending: 0, before: null, awayFrom: [], sent: true });
          }),
        ),
      deleted: () =>
        asStoreProblem(async () =>
          (await db.versions.where('pending').equals(1).toArray()).flatMap(({ table, key, gone }) =>
            table === 'students' && gone === DELETED ? [key] : [],
          ),
        ),
      apply: (page) => asStoreProblem(() => applyPage(context, member, page)),
      tellAllAgain: () =>
        asStoreProblem(() =>
          db.transaction('rw', [db.versions, db.studio], async () => {
            await db.versions
              // What went with its student has no place to be told in.
              .filter(({ at, gone, studentId }) => at !== IN_STUDIO && (gone === STANDS || studentId !== ''))
              .modify({ pending: 1, before: null, sent: false });
            await db.studio.delete('cursor');
            const place = await get<SoundPlace>('sound');
            if (place) await put('sound', { ...place, after: place.from });
          }),
        ),
    }),
  };
}

const versionOf = (
  table: string,
  key: string,
  studentId: string,
  stamp: number,
  item: string,
): VersionRow => ({
  ...{ at: `${table} ${key}`, table, key, studentId, stamp, item },
  ...{ pending: 1, sent: false, before: null, awayFrom: [], gone: STANDS },
});

/** What the studio does not have yet, oldest first. What hangs on a student who was deleted goes with the deletion. */
async function pending({ db }: Context, { studio: id }: Membership, most: number): Promise<Change[]> {
  const found = await db.versions.where('pending').equals(1).sortBy('stamp');
  const deleted = new Set(
    found.flatMap(({ table, key, gone }) => (table === 'students' && gone === DELETED ? [key] : [])),
  );
  const some = found.filter(({ studentId }) => !deleted.has(studentId)).slice(0, most);
  // A student who was deleted elsewhere has no key any more, and needs no word of what was moved away from them.
  const left = [...new Set(some.flatMap(({ awayFrom }) => awayFrom.map(({ studentId }) => studentId)))];
  for (const one of await db.versions.bulkGet(left.map((student) => `students ${student}`)))
    if (one?.gone === DELETED) deleted.add(one.key);
  return Promise.all(
    some.map(async ({ table, key, studentId, stamp, item, before, awayFrom, sent, gone }) => ({
      ...{ table, key, stamp, item, before, sent, scope: studentId === '' ? id : studentId },
      awayFrom: awayFrom.flatMap(({ studentId: scope, item }) =>
        deleted.has(scope) ? [] : [{ scope, item }],
      ),
      deleted: gone === DELETED,
      row: (await db.table<unknown, string>(table).get(key)) ?? null,
    })),
  );
}
