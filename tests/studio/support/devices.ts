import 'fake-indexeddb/auto';
import type { FastifyInstance } from 'fastify';
import type { Fetch, Invitation, Membership, Round } from '../../../src/studio/index.ts';
import {
  apiOf,
  begin,
  fetchSound,
  invite,
  join,
  readInvitation,
  sendSounds,
  syncOnce,
} from '../../../src/studio/index.ts';
import type { Context } from '../../../src/store/context.ts';
import { attempts } from '../../../src/store/attempts.ts';
import { audio } from '../../../src/store/audio.ts';
import { merge } from '../../../src/store/backup/merge.ts';
import { correct } from '../../../src/store/correct.ts';
import { makeDatabase } from '../../../src/store/database.ts';
import { settings } from '../../../src/store/settings.ts';
import { sittings } from '../../../src/store/sittings.ts';
import { students } from '../../../src/store/students.ts';
import { studio } from '../../../src/store/sync/local.ts';
import { TABLE_NAMES } from '../../../src/store/schema/index.ts';
import type { Records } from '../../../src/store/types.ts';

/** The server's answers without a network: as `fetch` gives them. */
export const fetchOf =
  (app: FastifyInstance): Fetch =>
  async (url, init) => {
    const answer = await app.inject({
      method: init.method as 'GET' | 'POST',
      url,
      headers: init.headers as Record<string, string>,
      ...(init.body === undefined ? {} : { payload: init.body as string }),
    });
    return new Response(answer.rawPayload.length === 0 ? null : Buffer.from(answer.rawPayload), {
      status: answer.statusCode,
      headers: { 'Content-Type': 'application/json' },
    });
  };

let count = 0;

/** A machine with a record of its own in an IndexedDB (fake-indexeddb), and its place in a studio. */
export class Device {
  readonly name = `device-${++count}`;
  /** How wrong its clock is, ms. */
  clockMs = 0;
  db = makeDatabase(this.name, () => this.now());
  member: Membership | null = null;
  fetch: Fetch;
  constructor(fetch: Fetch) {
    this.fetch = fetch;
  }

  get context(): Context {
    return {
      ...{ db: this.db, now: () => this.now(), digest: () => ({}) as never, doubt: () => null },
      ...{ packSoon: () => undefined, tab: this.name },
    };
  }
  now(): number {
    return Date.now() + this.clockMs;
  }
  get students() {
    return students(this.context);
  }
  get attempts() {
    return { ...attempts(this.context), ...correct(this.context) };
  }
  get sittings() {
    return sittings(this.context);
  }
  get settings() {
    return settings(this.context);
  }
  get studio() {
    return studio(this.context);
  }
  get audio() {
    return audio(this.context);
  }

  async joinBy(invitation: Invitation): Promise<void> {
    this.member = await join(this.fetch, '', begin(invitation, this.name));
    await this.studio.enter(this.member);
  }
  async founded(link: string): Promise<void> {
    await this.joinBy(readInvitation(link, true)!);
  }
  async api() {
    return apiOf(this.fetch, '', this.member!);
  }
  /** Invites a device: of a student, or a teacher's. */
  async invite(student: string | null): Promise<Invitation> {
    const { invitation, own } = await invite(await this.api(), this.member!, student, 3600);
    await this.keep(own);
    return invitation;
  }
  async keep(own: Membership): Promise<void> {
    this.member = own;
    await this.studio.keep(own);
  }
  async sync(): Promise<Round> {
    return syncOnce(this.member!, {
      ...{ local: this.studio.local(this.member!), api: await this.api(), keep: (own) => this.keep(own) },
    });
  }
  /** Rows, then the sound of takes that is kept here, as the page does it. @returns of how many takes it was sent */
  async syncWithSound(mayGo = () => true): Promise<number> {
    const { own, sound } = await this.sync();
    const edges = { api: await this.api(), keep: (next: Membership) => this.keep(next), mayGo };
    return (await sendSounds(own, sound, { ...edges, sounds: this.studio.sounds() })).sent;
  }
  /** Fetches the sound of a take from the studio. */
  async hear(student: string, attempt: string) {
    return fetchSound(await this.api(), this.member!, student, attempt);
  }
  /** The page ends here and now, and a new one opens the same record. */
  async restart(): Promise<void> {
    this.db.close();
    this.db = makeDatabase(this.name, () => this.now());
    this.member = await this.studio.member();
  }
  /** The page ends before its next transaction but so many: nothing more is read or written until it is opened again. */
  dieBefore(count: number): void {
    const { db } = this;
    const real = db.transaction.bind(db) as (...given: unknown[]) => unknown;
    let left = count;
    db.transaction = ((...given: unknown[]) => {
      if (left-- > 0) return real(...given);
      db.close();
      return Promise.reject(new Error('the page has died'));
    }) as typeof db.transaction;
  }
  /** A backup of long ago comes back, as `restore` does it. */
  async restore(records: Records): Promise<void> {
    await merge(this.context, records, [], async () => undefined);
  }
  async records(): Promise<Records> {
    const rows = await Promise.all(TABLE_NAMES.map((table) => this.db.table(table).toArray()));
    return Object.fromEntries(TABLE_NAMES.map((table, i) => [table, rows[i]])) as unknown as Records;
  }
}
