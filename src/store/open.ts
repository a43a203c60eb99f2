import Dexie, { liveQuery } from 'dexie';
import type { AttemptFacts, Practised } from '../tests-engine/index.ts';
import { attempts } from './attempts.ts';
import { audio } from './audio.ts';
import { backup } from './backup/index.ts';
import { redigest } from './backup/merge.ts';
import { BORN } from './context.ts';
import type { Context } from './context.ts';
import { correct } from './correct.ts';
import { makeDatabase } from './database.ts';
import { derived } from './derived.ts';
import { remarksOf } from './homework/remarks.ts';
import { results } from './homework/results.ts';
import { randomId } from './ids.ts';
import { packing } from './backup/inWorker.ts';
import { asStoreProblem, StoreProblem, toStoreProblem } from './problem.ts';
import { settings } from './settings.ts';
import { sittings } from './sittings.ts';
import { tracks } from './tracks.ts';
import { students } from './students.ts';
import { studio } from './sync/local.ts';
import { holdTab } from './tabs.ts';

export interface OpenOptions {
  /** Name of the database; tests use their own. */
  readonly name?: string;
  readonly now?: () => number;
  /** `practised` and `DIGEST_VERSION` of tests-engine/progress. */
  readonly digest: (facts: AttemptFacts) => Practised;
  readonly digestVersion: number;
  /** See `Context`; without it nothing is doubted. */
  readonly doubt?: Context['doubt'];
  /** Told when the database is closed under us: another tab updates it, or the browser took it away. */
  readonly onProblem?: (problem: StoreProblem) => void;
}

const DIGEST_VERSION = 'digestVersion';
/** Outlives the database in most browsers: tells "the browser removed it" from "there never was one". */
const MARKER = 'twobar-kept';
/** How long another tab with an older version may hold us up before we say so. */
const BLOCKED_AFTER_MS = 3000;
/** A record of 5,000 attempts opens in a tenth of a second; one that has not opened by then may never do. */
const SLOW_AFTER_MS = 10_000;

/**
 * Opens the record of this browser. One call a tab.
 * @throws StoreProblem 'unavailable', 'blocked', 'newer-version', 'quota', 'failed'.
 */
export async function openStore(options: OpenOptions) {
  const { name = 'twobar', now = Date.now, digest, digestVersion } = options;
  const { doubt = () => null, onProblem = () => {} } = options;
  const db = makeDatabase(name, now);
  const context: Context = { db, now, digest, doubt, packSoon: packing(db), tab: randomId() };
  let closing = false;
  let letGo = false;
  db.on('versionchange', () => {
    // A newer app wants to upgrade in another tab: let go at once, or it could not.
    letGo = true;
    db.close();
    onProblem(new StoreProblem('closed', 'another tab updated the record'));
    return false;
  });
  db.on('close', () => {
    if (!closing) onProblem(new StoreProblem('closed', 'the browser closed the record'));
  });
  await inTime(openOrSayWhy(db), () => db.close());
  const evicted = await wasEvicted(context, `${MARKER}-${name}`);
  await refreshDigests(context, digestVersion);
  context.packSoon();
  const hold = holdTab(context.tab);
  return {
    /** Of the database. */
    name,
    /** The browser had a record here and removed it. Say so once, offer to restore a backup. */
    evicted,
    /**
     * Opens the record again where the browser has closed it, as Chromium does when the disk is full. At once
     * when it is open. Call it before each job.
     * @throws StoreProblem 'disk' while there is no room, 'closed' when another tab has updated the record, and
     * once 'evicted' when the record that opens is a new one.
     */
    ready: async (): Promise<void> => {
      if (db.isOpen()) return;
      if (letGo || closing) throw new StoreProblem('closed', 'the record was let go');
      await asStoreProblem(() => db.open());
      if (await isNew(context)) throw new StoreProblem('evicted', 'the record was removed while it was open');
    },
    attempts: { ...attempts(context), ...correct(context) },
    students: students(context),
    derived: derived(context),
    audio: audio(context),
    tracks: tracks(context),
    settings: settings(context),
    sittings: sittings(context),
    backup: backup(context),
    results: results(context),
    remarks: remarksOf(context),
    studio: studio(context),
    /**
     * Calls `onValue` with what `query` gives, now and whenever a tab changes what it read.
     * @returns a function that ends it
     */
    watch: <T>(query: () => Promise<T>, onValue: (value: T) => void): (() => void) => {
      const subscription = liveQuery(query).subscribe({
        next: onValue,
        error: (error: unknown) => onProblem(toStoreProblem(error)),
      });
      return () => subscription.unsubscribe();
    },
    close: (): void => {
      closing = true;
      hold.release();
      db.close();
    },
  };
}
export type Store = Awaited<ReturnType<typeof openStore>>;

/** @throws StoreProblem 'slow' where the browser gives no answer at all. */
async function inTime(opening: Promise<void>, giveUp: () => void): Promise<void> {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(() => {
      giveUp();
      reject(new StoreProblem('slow', 'the browser did not open the record'));
    }, SLOW_AFTER_MS);
  });
  opening.catch(() => undefined);
  await Promise.race([opening, late]).finally(() => clearTimeout(timer));
}

/** Opens it, or says what stands in the way: a database held by an old tab never answers by itself. */
async function openOrSayWhy(db: Context['db']): Promise<void> {
  if (!Dexie.dependencies.indexedDB) throw new StoreProblem('unavailable', 'this browser has no IndexedDB');
  if ((await versionThere(db.name)) > db.verno)
    throw new StoreProblem('newer-version', 'the record was written by a newer app');
  let timer: ReturnType<typeof setTimeout> | undefined;
  const blocked = new Promise<never>((_, reject) => {
    db.on('blocked', () => {
      timer = setTimeout(
        () => reject(new StoreProblem('blocked', 'another tab holds an older version open')),
        BLOCKED_AFTER_MS,
      );
    });
  });
  try {
    await Promise.race([db.open(), blocked]);
  } catch (error) {
    db.close();
    throw toStoreProblem(error);
  } finally {
    clearTimeout(timer);
  }
}

/**
 * Version of the database as it lies there, 0 when there is none. Asked before opening: Dexie 4 opens a newer
 * one too and adds the tables it misses, which would write into a record that is not ours to write.
 */
async function versionThere(name: string): Promise<number> {
  const probe = new Dexie(name);
  try {
    await probe.open();
    return Math.floor(probe.verno);
  } catch (error) {
    if (error instanceof Error && error.name === 'NoSuchDatabaseError') return 0;
    throw toStoreProblem(error);
  } finally {
    probe.close();
  }
}

/** True when this browser once held a record under this name and it is a new one now. */
async function wasEvicted(context: Context, marker: string): Promise<boolean> {
  const born = !(await isNew(context));
  try {
    const seen = localStorage.getItem(marker) !== null;
    localStorage.setItem(marker, '1');
    return seen && !born;
  } catch {
    return false; // no localStorage: eviction cannot be told from a first start
  }
}

/** True the first time that this record is opened. */
const isNew = ({ db, now }: Context): Promise<boolean> =>
  asStoreProblem(async () => {
    if (await db.meta.get(BORN)) return false;
    await db.meta.put({ key: BORN, value: Math.floor(now()) });
    return true;
  });

/** Digests of an older rule are made anew from the attempts, a hundred at a time. */
async function refreshDigests(context: Context, version: number): Promise<void> {
  const { db } = context;
  await asStoreProblem(async () => {
    if ((await db.meta.get(DIGEST_VERSION))?.value === version) return;
    const ids = await db.attempts.toCollection().primaryKeys();
    for (let at = 0; at < ids.length; at += 100)
      await db.transaction('rw', [db.attempts, db.overrides, db.homework, db.digests, db.derived], () =>
        redigest(context, ids.slice(at, at + 100)),
      );
    await db.meta.put({ key: DIGEST_VERSION, value: version });
  });
}
