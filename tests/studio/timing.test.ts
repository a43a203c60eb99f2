import { timingSafeEqual } from 'node:crypto';
import type * as Crypto from 'node:crypto';
import { afterAll, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { makeServer } from '../../studio/app.ts';
import { openDatabase } from '../../studio/database/open.ts';
import type { Database, Sql } from '../../studio/database/sql.ts';
import { newStudio } from '../../studio/setup.ts';
import { SCHEMA_VERSION } from '../../src/store/schema/migrations.ts';
import { derive } from '../../src/studio/cipher.ts';
import { fromBase64Url, newId, randomBytes, toBase64Url } from '../../src/studio/bytes.ts';
import type { Invitation } from '../../src/studio/index.ts';
import { API, PROTOCOL } from '../../src/studio/wire.ts';
import { newDatabase } from '../support/postgres.ts';
import { Device, fetchOf } from './support/devices.ts';
import { bearerOf } from './support/raw.ts';
import { ENGINES, engineName } from './support/server.ts';

vi.mock('node:crypto', async (original) => {
  const real = await original<typeof Crypto>();
  return { ...real, timingSafeEqual: vi.fn(real.timingSafeEqual) };
});
const compared = vi.mocked(timingSafeEqual);

/**
 * Nobody learns by asking whether an id is there, or how much of a token is right. Clocks would tell that only now and
 * then; so what is looked at is the way that a request goes: the same statements in the same order, one comparison of two
 * whole hashes in constant time, and the same answer to the letter.
 */
describe.each(ENGINES)('what an answer tells by its way', (where) => {
  let db: Database;
  let app: Awaited<ReturnType<typeof makeServer>>;
  let desk: Device;
  let phone: Device;
  const asked: { readonly text: string; readonly values: readonly unknown[] }[] = [];
  const failures: unknown[] = [];

  beforeAll(async () => {
    const real = await openDatabase(where && (await newDatabase(where)));
    const heard = (sql: Sql): Sql => ({
      query: (text, values = []) => {
        asked.push({ text, values });
        return sql.query(text, values);
      },
    });
    db = { ...real, ...heard(real), transaction: (job) => real.transaction((sql) => job(heard(sql))) };
    const rates = { address: 1e9, device: 1e9, join: 1e9 };
    app = await makeServer({ db, rates, onFailure: (error) => failures.push(error) });
    desk = new Device(fetchOf(app));
    await desk.founded(await newStudio(db, Date.now()));
    const { id } = await desk.students.add('A. B.', 'guitar');
    await desk.sync();
    phone = new Device(fetchOf(app));
    await phone.joinBy(await desk.invite(id));
  });
  afterAll(async () => {
    expect(failures).toEqual([]);
    await app.close();
    await db.close();
  });
  beforeEach(() => void compared.mockClear());

  interface Way {
    readonly answer: string;
    readonly statements: readonly string[];
    readonly values: string;
    /** Lengths of what was compared. */
    readonly comparisons: readonly (readonly [number, number])[];
  }
  async function way(
    method: 'GET' | 'POST',
    path: string,
    bearer: string | null,
    body?: object,
  ): Promise<Way> {
    asked.length = 0;
    compared.mockClear();
    const {
      statusCode,
      headers,
      body: text,
    } = await app.inject({
      method,
      url: API + path,
      headers: {
        ...(bearer === null ? {} : { authorization: bearer }),
        'x-studio-protocol': String(PROTOCOL),
        ...(body ? { 'content-type': 'application/json' } : {}),
      },
      ...(body ? { payload: JSON.stringify(body) } : {}),
    });
    // What counts requests, and the clock.
    const told = Object.entries(headers).filter(([name]) => !/^(date|x-ratelimit|connection)/.test(name));
    return {
      answer: JSON.stringify([statusCode, told, text]),
      statements: asked.map((one) => one.text),
      values: JSON.stringify(asked.map((one) => one.values)),
      comparisons: compared.mock.calls.map(([a, b]) => [a.byteLength, b.byteLength] as const),
    };
  }
  /** All went the way of the first. */
  function alike(ways: Readonly<Record<string, Way>>, comparisons: number): void {
    const [first] = Object.values(ways) as [Way, ...Way[]];
    expect(first.statements.length).toBeGreaterThan(0);
    for (const [what, one] of Object.entries(ways)) {
      expect(one.answer, what).toBe(first.answer);
      expect(one.statements, what).toEqual(first.statements);
      expect(one.comparisons, what).toEqual(Array(comparisons).fill([32, 32]));
    }
  }
  const changed = (token: string, at: number): string => {
    const sign = token.at(at) === 'A' ? 'B' : 'A';
    return at === -1 ? token.slice(0, -1) + sign : token.slice(0, at) + sign + token.slice(at + 1);
  };

  it(`${engineName(where)}: a device that is not there and one whose token is wrong by one sign, the first or the last, are told apart by nothing`, async () => {
    const [studio, device, token] = (await bearerOf(desk.member!)).slice(7).split('.') as [
      string,
      string,
      string,
    ];
    const theirs = (await bearerOf(phone.member!)).slice(7).split('.')[2]!;
    const pull = (...bearer: string[]) =>
      way('GET', `/pull?after=0&schema=${SCHEMA_VERSION}`, `Bearer ${bearer.join('.')}`);
    const ways = {
      'no such device': await pull(studio, newId(), token),
      'no such studio': await pull(newId(), device, token),
      'wrong from the first sign on': await pull(studio, device, changed(token, 0)),
      // The last sign of 43 holds four bits; the one before it is whole.
      'wrong in the last whole sign': await pull(studio, device, changed(token, 41)),
      'another token altogether': await pull(studio, device, toBase64Url(randomBytes(32))),
      'another device’s token': await pull(studio, device, theirs),
    };
    expect(JSON.parse(ways['no such device'].answer)[0]).toBe(401);
    alike(ways, 1);
    // The database is never asked for a token, not even for part of one.
    for (const one of Object.values(ways))
      for (const secret of [token, theirs]) expect(one.values).not.toContain(secret.slice(0, 12));
    // That the way of who may come in is another shows that ways are seen at all.
    const right = await pull(studio, device, token);
    expect(JSON.parse(right.answer)[0]).toBe(200);
    expect(right.comparisons).toEqual([[32, 32]]);
    expect(right.statements).not.toEqual(ways['no such device'].statements);
  });

  it('an invitation that is not there, and one that waits, has run out, was used or withdrawn, are told apart by nothing to who has not its secret', async () => {
    const [waits, used, withdrawn] = [
      await desk.invite(null),
      await desk.invite(null),
      await desk.invite(null),
    ];
    const other = new Device(fetchOf(app));
    await other.joinBy(used);
    await (await desk.api()).withdraw(withdrawn.invite);
    const late = await desk.invite(null);
    await db.query('update invites set expires_at = $2 where id = $1', [late.invite, new Date(0)]);
    const tokenOf = async ({ secret }: Invitation) =>
      toBase64Url(await derive(fromBase64Url(secret), 'invite token'));
    const join = (studio: string, invite: string, inviteToken: string) =>
      way('POST', '/join', null, {
        ...{ studio, invite, inviteToken },
        device: { id: newId(), token: toBase64Url(randomBytes(32)), publicKey: 'AA' },
      });
    const { studio } = waits;
    const wrong = toBase64Url(randomBytes(32));
    const right = await tokenOf(waits);
    const ways = {
      'no such invitation': await join(studio, newId(), wrong),
      'no such studio': await join(newId(), waits.invite, right),
      'one that waits': await join(studio, waits.invite, wrong),
      'wrong from the first sign on': await join(studio, waits.invite, changed(right, 0)),
      'wrong in the last whole sign': await join(studio, waits.invite, changed(right, 41)),
      'one that was used': await join(studio, used.invite, wrong),
      'one that was withdrawn': await join(studio, withdrawn.invite, wrong),
      'withdrawn, with its own secret': await join(studio, withdrawn.invite, await tokenOf(withdrawn)),
      'one that has run out': await join(studio, late.invite, wrong),
      'run out, with its own secret': await join(studio, late.invite, await tokenOf(late)),
    };
    expect(JSON.parse(ways['no such invitation'].answer)[0]).toBe(403);
    alike(ways, 1);
    for (const one of Object.values(ways)) expect(one.values).not.toContain(right.slice(0, 12));
    // It waits still, and lets in who has it.
    expect(JSON.parse((await join(studio, waits.invite, right)).answer)[0]).toBe(200);
  });
});
