import { StudioProblem } from './api.ts';
import type { Api } from './api.ts';
import { keyById, writingKey } from './keys.ts';
import type { Change, Incoming, Local, Membership } from './local.ts';
import { withKeyOf, withKeys } from './membership.ts';
import { close, OF_A_STUDENTS_DEVICE, open, parcelsOf, sentFor } from './rows.ts';
import type { Parcel } from './rows.ts';
import { followChanges } from './sound.ts';
import { LIMITS } from './wire.ts';
import type { Page, PulledItem, SentItem } from './wire.ts';

/** Changes packed at once: with their cards and words of moves they stay below `LIMITS.items`. */
const BATCH = 150;
/** Of a whole request something is left for its frame. */
const PUSH_BYTES = LIMITS.bodyBytes * 0.7;
/** How often keys are fetched anew within one batch: each time somebody has been removed meanwhile. */
const TRIES = 5;

export interface SyncEdges {
  readonly local: Local;
  readonly api: Api;
  /** Keys that were fetched are kept at once. */
  readonly keep: (own: Membership) => Promise<void>;
  /** Asked before each request: false ends the round where it stands (a test begins), nothing is lost. */
  readonly mayGo?: () => boolean;
}

export interface Round {
  readonly own: Membership;
  readonly pulled: number;
  readonly pushed: number;
  /** Rows that do not open or make no sense; they are passed over. */
  readonly unreadable: number;
  /** Changes too large for any request, which stay here. */
  readonly tooLarge: number;
  /** False where `mayGo` ended it. */
  readonly whole: boolean;
  /** Which period of sound the studio has; null: it takes none. */
  readonly sound: string | null;
}

/**
 * One round: pull what came after the cursor, tell what was deleted, push what is new. It may be cut anywhere, run twice
 * or start again: every step is kept before the next, and none does harm twice. Pulling comes first, so that a machine
 * that was away for a year learns who was deleted before it sends anything.
 * @throws StudioProblem; what was done until then holds
 */
export async function syncOnce(member: Membership, edges: SyncEdges): Promise<Round> {
  try {
    return await round(member, edges);
  } catch (error) {
    // A student's device learns of its student's end by the refusal of its token.
    if (error instanceof StudioProblem && error.code === 'student-gone' && member.student !== null)
      await edges.local.apply({ rows: [], gone: [member.student], cursor: await edges.local.cursor() });
    throw error;
  }
}

async function round(
  member: Membership,
  { local, api, keep, mayGo = () => true }: SyncEdges,
): Promise<Round> {
  let own = member;
  let [pulled, pushed, unreadable, tooLarge] = [0, 0, 0, 0];
  let sound: string | null = null;
  const use = async (next: Membership): Promise<void> => {
    if (next !== own) await keep((own = next));
  };
  const end = (whole: boolean): Round => ({ own, pulled, pushed, unreadable, tooLarge, whole, sound });

  const fetched = async (after: number): Promise<Fetched> => {
    const page = await api.pull(after, local.schema);
    if (page.items.some(({ keyId }) => keyById(own, keyId) === null)) await use(await withKeys(api, own));
    return { after, page, rows: await openedOf(own, page.items) };
  };
  /** All that came after the cursor. @returns how many students were deleted, or null where `mayGo` ended it */
  const pullAll = async (): Promise<number | null> => {
    let gone = 0;
    // While a page is written the next one is fetched and opened: the line, the threads that decrypt and the disk work at once.
    let ahead: Promise<Fetched> | null = null;
    for (;;) {
      if (!mayGo()) return null;
      const cursor = await local.cursor();
      const waiting: Fetched | null = await ahead;
      const { page, rows } = waiting?.after === cursor.after ? waiting : await fetched(cursor.after);
      ahead = null;
      if (cursor.era !== null && (page.era !== cursor.era || page.next < cursor.after)) {
        await local.tellAllAgain();
        continue;
      }
      unreadable += page.items.length - rows.length;
      if (page.more && mayGo()) {
        ahead = fetched(page.next);
        // Its failure is met where it is waited for, unless this page fails before.
        ahead.catch(() => undefined);
      }
      await local.apply({ rows, gone: page.gone, cursor: { after: page.next, era: page.era } });
      pulled += rows.length;
      gone += page.gone.length;
      sound = page.sound ?? null;
      // What the page brought may ask for all once more.
      if (!page.more && (await local.cursor()).after >= page.next) return gone;
    }
  };
  if ((await pullAll()) === null) return end(false);

  if (own.role === 'teacher')
    for (const student of await local.deleted()) {
      if (!mayGo()) return end(false);
      await api.deleteStudent(student);
      await local.apply({ rows: [], gone: [student], cursor: await local.cursor() });
    }

  for (let tries = TRIES; ;) {
    const changes = await local.pending(BATCH);
    if (changes.length === 0) return end(true);
    const mine = changes.filter((change) => isOurs(own, change));
    await local.sent(changes.filter((change) => !mine.includes(change)).map(({ item }) => item));
    if (mine.length === 0) continue;
    if (!mayGo()) return end(false);
    try {
      for (const scope of new Set(mine.flatMap(scopesOf)))
        if (scope !== own.studio) await use(await withKeyOf(api, own, scope));
      const batch = await packed(own, mine, local.schema);
      tooLarge += batch.tooLarge.length;
      if (batch.items.length + batch.drop.length > 0)
        await api.push({ schema: local.schema, items: batch.items, drop: batch.drop });
      // Before they count as told: a page that dies here tells it again.
      const done = new Set(batch.done);
      if (sound !== null && own.role === 'teacher')
        await followChanges(
          api,
          own,
          mine.filter(({ item }) => done.has(item)),
        );
      await local.sent([...batch.done, ...batch.tooLarge]);
      pushed += batch.done.length;
      tries = TRIES;
    } catch (error) {
      if (!(error instanceof StudioProblem)) throw error;
      if (--tries <= 0) throw error;
      if (error.code === 'old-key' || error.code === 'unknown-key') await use(await withKeys(api, own));
      else if (error.code === 'student-gone' && own.role === 'teacher') {
        // Deleted elsewhere since our pull: the next pull says who.
        const gone = await pullAll();
        if (gone === null) return end(false);
        if (gone === 0) throw error;
      } else throw error;
    }
  }
}

/** A page, and what of it opens. */
interface Fetched {
  /** The place after which it was asked for. */
  readonly after: number;
  readonly page: Page;
  readonly rows: readonly Incoming[];
}

/** Without what does not open with a key that this device holds, or makes no sense. */
async function openedOf(own: Membership, items: readonly PulledItem[]): Promise<Incoming[]> {
  const keys = new Map([...new Set(items.map(({ keyId }) => keyId))].map((id) => [id, keyById(own, id)]));
  const openedOrNull = async (item: PulledItem): Promise<Incoming | null> => {
    const key = keys.get(item.keyId) ?? null;
    if (key === null) return null;
    try {
      return { ...(await open(own.studio, key.raw, item)), scope: item.scope, role: item.role };
    } catch {
      return null;
    }
  };
  // Side by side: each row waits several times for threads of the browser's.
  return (await Promise.all(items.map(openedOrNull))).filter((row) => row !== null);
}

/** A student's device sends the takes and sittings of its student, a teacher's all but what has no place in a studio. */
const isOurs = ({ role, student }: Membership, { table, scope, row }: Change): boolean =>
  role === 'teacher' || (scope === student && row !== null && OF_A_STUDENTS_DEVICE.has(table));

/** In whose keys something is written for a change. */
const scopesOf = ({ scope, sent, awayFrom }: Change): string[] => [
  ...(sent ? [] : [scope]),
  ...awayFrom.map((one) => one.scope),
];

interface Batch {
  readonly items: SentItem[];
  readonly drop: string[];
  /** Versions that are in it. */
  readonly done: string[];
  readonly tooLarge: string[];
}

/** As many changes, whole ones, as one request carries. */
async function packed(own: Membership, changes: readonly Change[], schema: number): Promise<Batch> {
  const batch: Batch = { items: [], drop: [], done: [], tooLarge: [] };
  let bytes = 0;
  for (const change of changes) {
    const items = await Promise.all((await parcelsOf(change, schema)).map((parcel) => sealed(own, parcel)));
    const size = items.reduce((sum, { body }) => sum + body.length + 250, 0);
    if (items.some(({ body }) => body.length > (LIMITS.itemBytes * 4) / 3)) {
      batch.tooLarge.push(change.item);
      continue;
    }
    if (bytes + size > PUSH_BYTES && batch.done.length > 0) break;
    bytes += size;
    batch.items.push(...items);
    if (own.role === 'teacher')
      for (const item of [
        ...(change.before === null ? [] : [change.before]),
        ...change.awayFrom.map((one) => one.item),
      ])
        batch.drop.push(...(await sentFor(change.table, item)));
    batch.done.push(change.item);
  }
  return batch;
}

function sealed(own: Membership, parcel: Parcel): Promise<SentItem> {
  const key = writingKey(own, parcel.lane === 'desk' ? own.studio : parcel.scope);
  if (key === null) throw new StudioProblem('unknown-key', `no key of ${parcel.scope}`);
  return close(own.studio, key, parcel);
}
