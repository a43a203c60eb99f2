import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { SCHEMA_VERSION } from '../../src/store/schema/migrations.ts';
import { LIMITS, ROUTES } from '../../src/studio/wire.ts';
import type { Route } from '../../src/studio/wire.ts';
import { begin, join, writeInvitation } from '../../src/studio/index.ts';
import type { Invitation } from '../../src/studio/index.ts';
import { sameHash, hashOf } from '../../studio/caller.ts';
import { sampleAttempt } from '../store/support/sample.ts';
import type { Device } from './support/devices.ts';
import { ask, bearerOf } from './support/raw.ts';
import { ENGINES, engineName, testServer } from './support/server.ts';
import type { TestServer } from './support/server.ts';

const TABLES = [
  ...['studios', 'devices', 'invites', 'keys', 'envelopes', 'items', 'gone'],
  ...['sounds', 'sound_parts'],
];
const hex = (n: number): string => n.toString(16).padStart(32, '0');

describe.each(ENGINES)('attacks on a studio', (where) => {
  let server: TestServer;
  let desk: Device;
  let phone: Device;
  let student: string;
  let other: string;
  let strangers: Device;
  const bearers: Record<string, string> = {};

  /** Everything that lies there, but for when somebody was last seen. */
  const whole = async (): Promise<string> => {
    const all = await Promise.all(
      TABLES.map(async (table) => {
        const rows = await server.db.query<Record<string, unknown>>(`select * from ${table}`);
        return rows.map(({ last_seen: _, ...row }) => JSON.stringify(row)).sort();
      }),
    );
    return JSON.stringify(all);
  };
  const unchanged = async <T>(job: () => Promise<T>): Promise<T> => {
    const before = await whole();
    const result = await job();
    expect(await whole(), 'the database').toBe(before);
    return result;
  };

  beforeAll(async () => {
    server = await testServer(where);
    desk = await server.firstDesk();
    student = (await desk.students.add('One', 'guitar')).id;
    other = (await desk.students.add('Other', 'guitar')).id;
    await desk.attempts.finish(null, sampleAttempt(student, 0));
    await desk.attempts.finish(null, sampleAttempt(other, 1));
    await desk.students.addNote(student, 'secret');
    await desk.sync();
    phone = server.device();
    await phone.joinBy(await desk.invite(student));
    await phone.sync();
    strangers = await server.firstDesk();
    await strangers.students.add('Theirs', 'bass');
    await strangers.sync();
    bearers['teacher'] = await bearerOf(desk.member!);
    bearers['student'] = await bearerOf(phone.member!);
    bearers['stranger'] = await bearerOf(strangers.member!);
  });
  afterAll(async () => {
    expect(server.failures).toEqual([]);
    await server.close();
  });

  it(`${engineName(where)}: every route answers whom the table names, and nobody else; there is no route beside it`, async () => {
    const routes = Object.keys(ROUTES) as Route[];
    const served = server.app
      .printRoutes({ commonPrefix: false })
      .split('\n')
      .filter((line) => line.includes('('));
    expect(served.length).toBeGreaterThan(0);
    for (const route of routes) {
      const [method, path] = route.split(' ') as [string, string];
      expect(server.app.hasRoute({ method: method as 'GET', url: `/studio/v1${path}` }), route).toBe(true);
      const allowed: readonly string[] = ROUTES[route];
      const url = path.replace(':id', hex(1));
      for (const [who, bearer] of [
        ['nobody', null],
        ['student', bearers['student']!],
      ] as const) {
        if (allowed.includes('anyone') || allowed.includes(who)) continue;
        const answer = await unchanged(() =>
          ask(server.app, method, url, bearer, method === 'POST' ? {} : undefined),
        );
        expect([answer.status, answer.json.code], `${who} ${route}`).toEqual(
          who === 'nobody' ? [401, 'unknown-device'] : [403, 'not-allowed'],
        );
      }
    }
  });

  it('a student’s token reads its own shared rows and writes its own; every other id and lane is refused', async () => {
    const pulled = await ask(
      server.app,
      'GET',
      `/pull?after=0&schema=${SCHEMA_VERSION}`,
      bearers['student']!,
    );
    const scopes = new Set(pulled.json.items.map((item: any) => `${item.scope} ${item.lane}`));
    expect(scopes).toEqual(new Set([`${student} shared`]));
    const keys = await ask(server.app, 'GET', '/keys', bearers['student']!);
    expect(keys.json.keys.every((key: any) => key.scope === student && key.wrapped === null)).toBe(true);
    const keyId = phone.member!.keys[0]!.id;
    const item = { id: hex(77), scope: student, lane: 'shared', keyId, body: 'AAAA' };
    const push = (change: object, drop: string[] = []) =>
      ask(server.app, 'POST', '/push', bearers['student']!, {
        schema: SCHEMA_VERSION,
        items: [{ ...item, ...change }],
        drop,
      });
    const mine = pulled.json.items[0].id as string;
    for (const [change, drop] of [
      [{ scope: other }, []],
      [{ scope: desk.member!.studio }, []],
      [{ scope: strangers.member!.studio }, []],
      [{ lane: 'desk' }, []],
      [{}, [mine]],
    ] as const) {
      const answer = await unchanged(() => push(change, [...drop]));
      expect([answer.status, answer.json.code], JSON.stringify([change, drop])).toEqual([403, 'not-allowed']);
    }
    // A key that is not of this student, or that nobody knows.
    const foreign = desk.member!.keys.find(({ scope }) => scope === other)!.id;
    for (const keyId of [foreign, hex(5)])
      expect((await unchanged(() => push({ keyId }))).json.code).toBe('unknown-key');
  });

  it('a row that a student sends in the place of another, or of another table, changes nothing at the desk', async () => {
    const [theirs] = await desk.attempts.newest(student, 1);
    const { close } = await import('../../src/studio/rows.ts');
    const { writingKey } = await import('../../src/studio/keys.ts');
    const key = writingKey(phone.member!, student)!;
    const forged = [
      { table: 'attempts', key: theirs!.id, row: { ...theirs, order: 1 } },
      { table: 'students', key: student, row: { ...(await desk.students.get(student)), name: 'Forged' } },
      {
        table: 'overrides',
        key: hex(9),
        row: {
          id: hex(9),
          attemptId: theirs!.id,
          studentId: student,
          atMs: 1,
          order: 1,
          verdicts: [],
          mark: 100,
          remark: '',
        },
      },
      { table: 'attempts', key: hex(10), row: { ...theirs, id: hex(10), studentId: other } },
      { table: 'attempts', key: theirs!.id, row: null },
      { table: 'settings', key: 'thresholds', row: { key: 'thresholds', value: 1 } },
    ];
    const items = await Promise.all(
      forged.map(({ table, key: at, row }, i) =>
        close(desk.member!.studio, key, {
          ...{ id: hex(500 + i), scope: student, lane: 'shared' as const },
          version: {
            schema: SCHEMA_VERSION,
            table,
            key: at,
            stamp: 9e14,
            item: hex(600 + i),
            row,
            moved: false,
          },
        }),
      ),
    );
    const sent = await ask(server.app, 'POST', '/push', bearers['student']!, {
      schema: SCHEMA_VERSION,
      items,
      drop: [],
    });
    expect(sent.status).toBe(200);
    const before = await desk.records();
    await desk.sync();
    expect(await desk.records()).toEqual(before);
    // The take that says otherwise is shown as any other conflict.
    expect(await desk.db.conflicts.toArray()).toMatchObject([
      { table: 'attempts', key: theirs!.id, origin: 'studio' },
    ]);
  });

  it('another studio’s ids open nothing: no key, no device, no student, no row', async () => {
    const { studio, device } = desk.member!;
    const [, , token] = bearers['stranger']!.slice(7).split('.');
    for (const bearer of [
      `Bearer ${studio}.${strangers.member!.device}.${token}`,
      `Bearer ${studio}.${device}.${token}`,
    ])
      expect(
        (await unchanged(() => ask(server.app, 'GET', `/pull?after=0&schema=${SCHEMA_VERSION}`, bearer)))
          .status,
      ).toBe(401);
    const asStranger = (path: string, body: unknown) =>
      ask(server.app, 'POST', path, bearers['stranger']!, body);
    expect(
      (await unchanged(() => asStranger(`/devices/${device}/remove`, { keys: [], envelopes: [] }))).status,
    ).toBe(404);
    await asStranger(`/students/${student}/delete`, {});
    expect(
      await server.db.query('select 1 from items where studio = $1 and scope = $2', [studio, student]),
    ).not.toEqual([]);
    expect(
      (
        await ask(server.app, 'GET', `/pull?after=0&schema=${SCHEMA_VERSION}`, bearers['stranger']!)
      ).json.items.every((item: any) => item.scope !== student),
    ).toBe(true);
    const keyId = desk.member!.keys[0]!.id;
    const item = { id: hex(78), scope: studio, lane: 'desk', keyId, body: 'AAAA' };
    expect(
      (await unchanged(() => asStranger('/push', { schema: SCHEMA_VERSION, items: [item], drop: [] }))).json
        .code,
    ).toBe('unknown-key');
  });

  it('an invitation works once, until it runs out or is withdrawn, and says no more than that', async () => {
    const use = (invitation: Invitation) => join(phone.fetch, '', begin(invitation, 'x'));
    const used = await desk.invite(null);
    const joining = begin(used, 'first');
    const first = await join(phone.fetch, '', joining);
    // The same device again: its answer may have been lost.
    expect(await join(phone.fetch, '', joining)).toEqual(first);
    const withdrawn = await desk.invite(null);
    await (await desk.api()).withdraw(withdrawn.invite);
    const late = await desk.invite(null);
    const wrong = { ...(await desk.invite(null)), secret: 'A'.repeat(43) };
    await unchanged(async () => {
      for (const one of [used, withdrawn, wrong, { ...late, invite: hex(3) }, { ...late, studio: hex(3) }])
        await expect(use(one), writeInvitation(one)).rejects.toMatchObject({ code: 'bad-invite' });
      server.clock.nowMs = Date.now() + 3601_000;
      await expect(use(late)).rejects.toMatchObject({ code: 'bad-invite' });
      server.clock.nowMs = null;
    });
    expect(await use(late)).toMatchObject({ role: 'teacher' });
  });

  it('bodies that are too large, cut, nested, of another type or hold SQL change nothing and get a sentence', async () => {
    const push = (body: unknown) => ask(server.app, 'POST', '/push', bearers['teacher']!, body);
    const sql = `'; drop table items; --`;
    const item = {
      id: hex(79),
      scope: student,
      lane: 'shared',
      keyId: desk.member!.keys[1]!.id,
      body: 'AAAA',
    };
    const bad: [unknown, number][] = [
      [`{"schema":5,"items":[${' '.repeat(LIMITS.bodyBytes)}],"drop":[]}`, 413],
      ['{"schema":5,"items":[', 400],
      ['', 400],
      ['[]', 400],
      ['null', 400],
      ['{"__proto__":{"a":1}}', 400],
      [`${'['.repeat(100_000)}`, 400],
      [{ schema: SCHEMA_VERSION, items: [], drop: [], more: 1 }, 400],
      [{ schema: 1e9, items: [], drop: [] }, 400],
      [{ schema: SCHEMA_VERSION, items: Array(LIMITS.items + 1).fill(item), drop: [] }, 400],
      [
        { schema: SCHEMA_VERSION, items: [{ ...item, body: 'A'.repeat(LIMITS.itemBytes * 2) }], drop: [] },
        400,
      ],
      ...Object.keys(item).map((field): [unknown, number] => [
        { schema: SCHEMA_VERSION, items: [{ ...item, [field]: sql }], drop: [] },
        400,
      ]),
      [{ schema: SCHEMA_VERSION, items: [], drop: [sql] }, 400],
      [{ schema: sql, items: [], drop: [] }, 400],
    ];
    for (const [body, status] of bad) {
      const answer = await unchanged(() => push(body));
      expect(answer.status, JSON.stringify(body).slice(0, 100)).toBe(status);
      expect(answer.json.sentence).toMatch(/^[A-Z].*\.$/);
    }
    for (const path of [
      `/pull?after=${encodeURIComponent(sql)}&schema=5`,
      '/pull?after=-1&schema=5',
      '/pull',
      '/pull?after=0&schema=5&x=1',
    ])
      expect((await ask(server.app, 'GET', path, bearers['teacher']!)).status).toBe(400);
    for (const path of [
      `/devices/${encodeURIComponent(sql)}/remove`,
      '/students/%00/delete',
      '/invites/../keys/withdraw',
    ])
      expect(
        (
          await unchanged(() =>
            ask(server.app, 'POST', path, bearers['teacher']!, { keys: [], envelopes: [] }),
          )
        ).status,
      ).toBeGreaterThanOrEqual(400);
    for (const bearer of [sql, `Bearer ${sql}`, 'Bearer ..', `Bearer ${hex(1)}.${hex(2)}.${sql}`, 'Basic x'])
      expect((await ask(server.app, 'GET', `/pull?after=0&schema=${SCHEMA_VERSION}`, bearer)).status).toBe(
        401,
      );
  });

  it('a text with SQL in every field that holds text arrives as it was written', async () => {
    const text = `Robert'); drop table items;-- $1 \\ "`;
    const { id } = await desk.students.add(text, 'guitar');
    await desk.students.change(id, { remark: text, group: text });
    await desk.sync();
    const second = server.device();
    await second.joinBy(await desk.invite(null));
    await second.sync();
    expect(await second.students.get(id)).toEqual(await desk.students.get(id));
  });

  it('keys: no other studio key than by a removal, no envelope to a stranger, nobody left out of a removal', async () => {
    const asTeacher = (path: string, body: unknown) =>
      ask(server.app, 'POST', path, bearers['teacher']!, body);
    const { studio } = desk.member!;
    const own = { id: hex(80), scope: studio, wrappedBy: null, wrapped: null };
    expect((await unchanged(() => asTeacher('/keys', { keys: [own], envelopes: [] }))).json.code).toBe(
      'not-allowed',
    );
    const key = { id: hex(81), scope: hex(82), wrappedBy: null, wrapped: null };
    const envelope = { keyId: hex(81), device: strangers.member!.device, sealed: 'AAAA' };
    expect(
      (await unchanged(() => asTeacher('/keys', { keys: [key], envelopes: [envelope] }))).json.code,
    ).toBe('devices-changed');
    const removal = `/devices/${phone.member!.device}/remove`;
    for (const body of [
      { keys: [], envelopes: [] },
      { keys: [{ ...key, scope: other }], envelopes: [] },
      { keys: [{ ...key, scope: student }], envelopes: [{ ...envelope, device: desk.member!.device }] },
    ])
      expect((await unchanged(() => asTeacher(removal, body))).json.code).toBe('devices-changed');
  });

  it('the server cannot move a row to another place, student or lane: it opens nowhere else', async () => {
    const { open } = await import('../../src/studio/rows.ts');
    const { keyById } = await import('../../src/studio/keys.ts');
    const page = await (await desk.api()).pull(0, SCHEMA_VERSION);
    const item = page.items.find(
      ({ lane, scope }) =>
        lane === 'shared' && scope === student && keyById(desk.member!, page.items[0]!.keyId),
    )!;
    const { raw } = keyById(desk.member!, item.keyId)!;
    await open(desk.member!.studio, raw, item);
    for (const change of [{ id: hex(1) }, { scope: other }, { lane: 'desk' as const }, { keyId: hex(1) }])
      await expect(open(desk.member!.studio, raw, { ...item, ...change })).rejects.toThrow();
    await expect(open(hex(1), raw, item)).rejects.toThrow();
    const flipped = item.body.replace(/.$/, (last) => (last === 'A' ? 'Q' : 'A'));
    await expect(open(desk.member!.studio, raw, { ...item, body: flipped })).rejects.toThrow();
  });

  it('a device that the server slips in is sent no key', async () => {
    const before = desk.member!;
    const slipped = server.device();
    const invitation = await desk.invite(student);
    await slipped.joinBy(invitation);
    // A public key of the server's own in the place of the device's.
    const { identityOf } = await import('../../src/studio/identity.ts');
    const evil = await identityOf(new Uint8Array(32).fill(7));
    await server.db.query('update devices set public_key = $2 where id = $1', [
      slipped.member!.device,
      evil.publicKey,
    ]);
    const victim = server.device();
    await victim.joinBy(await desk.invite(student));
    const { removeDevice } = await import('../../src/studio/index.ts');
    await desk.keep(await removeDevice(await desk.api(), desk.member!, victim.member!.device));
    const newest = desk.member!.keys.findLast(({ scope }) => scope === student)!;
    expect(before.keys.some(({ id }) => id === newest.id)).toBe(false);
    const [sealed] = await server.db.query<{ sealed: string }>(
      'select sealed from envelopes where device = $1 and key_id = $2',
      [slipped.member!.device, newest.id],
    );
    await expect(
      evil.open(sealed!.sealed, JSON.stringify(['key', before.studio, student, newest.id])),
    ).rejects.toThrow();
    // The phone that can prove itself is sent it.
    await phone.sync();
    await phone.attempts.finish(null, sampleAttempt(student, 4));
    await phone.sync();
    expect(phone.member!.keys.map(({ id }) => id)).toContain(newest.id);
  });

  it('a flood is slowed: by device, by address, and at joining; others go on', async () => {
    const small = await testServer(where, { address: 60, device: 10, join: 5 });
    const [one, two] = [await small.firstDesk(), await small.firstDesk()];
    const [a, b] = [await bearerOf(one.member!), await bearerOf(two.member!)];
    const statuses: number[] = [];
    for (let i = 0; i < 15; i++)
      statuses.push((await ask(small.app, 'GET', `/pull?after=0&schema=${SCHEMA_VERSION}`, a)).status);
    expect(statuses.at(-1)).toBe(429);
    expect(statuses.filter((status) => status === 200).length).toBeLessThanOrEqual(10);
    expect((await ask(small.app, 'GET', `/pull?after=0&schema=${SCHEMA_VERSION}`, b)).status).toBe(200);
    const joins: number[] = [];
    const body = {
      studio: hex(1),
      invite: hex(2),
      inviteToken: 'A'.repeat(43),
      device: { id: hex(3), token: 'B'.repeat(43), publicKey: 'AA' },
    };
    for (let i = 0; i < 8; i++) joins.push((await ask(small.app, 'POST', '/join', null, body)).status);
    expect(joins.at(-1)).toBe(429);
    expect(joins).not.toContain(200);
    let last = 0;
    for (let i = 0; i < 80; i++) last = (await ask(small.app, 'GET', '/health', null)).status;
    expect(last).toBe(429);
    expect(small.failures).toEqual([]);
    await small.close();
  });

  it('an app of another protocol is told so', async () => {
    const answer = await unchanged(() =>
      ask(server.app, 'GET', `/pull?after=0&schema=${SCHEMA_VERSION}`, bearers['teacher']!, undefined, {
        'x-studio-protocol': '2',
      }),
    );
    expect([answer.status, answer.json.code]).toEqual([426, 'newer-protocol']);
  });

  it('tokens lie there as hashes, are compared whole, and say nothing of a device that is not there', async () => {
    const all = JSON.stringify(await server.db.query('select * from devices'));
    for (const bearer of Object.values(bearers)) expect(all).not.toContain(bearer.split('.')[2]);
    expect(sameHash(hashOf('a'), hashOf('a'))).toBe(true);
    expect(sameHash(hashOf('a'), hashOf('b'))).toBe(false);
    const [studio, device, token] = bearers['teacher']!.slice(7).split('.') as [string, string, string];
    const wrong = token.replace(/^./, (first) => (first === 'A' ? 'B' : 'A'));
    const known = await ask(server.app, 'GET', '/keys', `Bearer ${studio}.${device}.${wrong}`);
    const unknown = await ask(server.app, 'GET', '/keys', `Bearer ${studio}.${hex(4)}.${wrong}`);
    expect([known.status, known.json]).toEqual([unknown.status, unknown.json]);
    expect(known.status).toBe(401);
  });
});
