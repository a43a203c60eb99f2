import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { SCHEMA_VERSION } from '../../src/store/schema/migrations.ts';
import { hasSound } from '../../src/studio/index.ts';
import type { Fetch, Sound } from '../../src/studio/index.ts';
import { LIMITS } from '../../src/studio/wire.ts';
import { sampleAttempt } from '../store/support/sample.ts';
import type { Device } from './support/devices.ts';
import { ask, bearerOf } from './support/raw.ts';
import { ENGINES, engineName, testServer } from './support/server.ts';
import type { TestServer } from './support/server.ts';

/** Room that a machine allows for sound, bytes. */
const LIMIT = 2e8;
/** Sound of so many bytes, another one for each number. */
const soundOf = (n: number, length = 3000) => ({
  mime: 'audio/wav',
  bytes: Uint8Array.from({ length }, (_, i) => (i * 31 + n * 7 + (i >> 8)) & 255),
});
/** Two whole parts and a bit. */
const LONG = LIMITS.soundPartBytes * 2 + 300_000;

/** Byte by byte; the runner's own comparison takes seconds for some megabytes. */
function expectSame(heard: Sound | null, sound: Sound): void {
  expect(heard?.mime).toBe(sound.mime);
  expect(Buffer.compare(heard!.bytes, sound.bytes), 'the same bytes').toBe(0);
}

/** What goes over the line from a machine. */
function watched(device: Device): { readonly path: string; readonly body: string }[] {
  const sent: { path: string; body: string }[] = [];
  const through = device.fetch;
  device.fetch = async (url, init) => {
    sent.push({ path: url.replace(/^.*\/v1/, ''), body: String(init.body ?? '') });
    return through(url, init);
  };
  return sent;
}
const isSound = ({ path }: { readonly path: string }): boolean => path.startsWith('/sound');

describe.each(ENGINES)('the sound of takes in a studio', (where) => {
  let server: TestServer;
  beforeAll(async () => (server = await testServer(where)));
  afterAll(async () => {
    expect(server.failures).toEqual([]);
    await server.close();
  });

  /** A desk, a student and the student's phone, which know of each other. */
  async function studioOfTwo(at: TestServer = server) {
    const desk = await at.firstDesk();
    const { id: student } = await desk.students.add('A. B.', 'guitar');
    await desk.sync();
    const phone = at.device();
    await phone.joinBy(await desk.invite(student));
    await phone.sync();
    return { desk, phone, student };
  }
  const turn = async (desk: Device, on: boolean) => (await desk.api()).switchSound(on);
  /** On, and every machine has learned so. */
  async function turnedOn(desk: Device, ...others: Device[]): Promise<void> {
    await turn(desk, true);
    for (const one of [desk, ...others]) await one.syncWithSound();
  }
  async function played(device: Device, student: string, n: number, length?: number) {
    const sound = soundOf(n, length);
    const { id } = await device.attempts.finish(null, sampleAttempt(student, n));
    await device.audio.save(id, sound, LIMIT);
    return { id, sound };
  }
  const lying = (desk: Device, at = server) =>
    at.db.query<{ attempt: string; student: string }>(
      'select attempt, student from sounds where studio = $1 and not gone order by seq',
      [desk.member!.studio],
    );

  it(`${engineName(where)}: off, not one byte of it leaves the machine`, async () => {
    const { desk, phone, student } = await studioOfTwo();
    const sent = watched(phone);
    await phone.syncWithSound();
    const { id } = await played(phone, student, 1);
    for (let k = 0; k < 2; k++) expect(await phone.syncWithSound()).toBe(0);
    await desk.sync();
    expect(await desk.attempts.get(id)).not.toBeNull();
    expect(sent.length).toBeGreaterThan(0);
    expect(sent.filter(isSound)).toEqual([]);
    expect(await lying(desk)).toEqual([]);
    expect(await desk.hear(student, id)).toBeNull();
  });

  it('on, it comes to the desk as the very same bytes, whatever its length; that of before stays, and nothing of it can be read where it lies', async () => {
    const { desk, phone, student } = await studioOfTwo();
    const before = await played(phone, student, 0);
    await turnedOn(desk, phone);
    const takes = [await played(phone, student, 1, 0), await played(phone, student, 2)];
    takes.push(await played(phone, student, 3, LONG));
    expect(await phone.syncWithSound()).toBe(3);
    await desk.sync();
    expect((await lying(desk)).map(({ attempt }) => attempt)).toEqual(takes.map(({ id }) => id));
    for (const { id, sound } of takes) expectSame(await desk.hear(student, id), sound);
    expect(await desk.hear(student, before.id)).toBeNull();
    // Only when somebody wants to hear it: no round has brought it.
    expect(await desk.audio.use()).toEqual({ takes: 0, bytes: 0 });
    const rows = await server.db.query<{ body: Uint8Array }>(
      'select body from sound_parts where studio = $1',
      [desk.member!.studio],
    );
    expect(rows).toHaveLength(5);
    const plain = Buffer.from(takes[1]!.sound.bytes.slice(100, 116));
    for (const { body } of rows) {
      expect(Buffer.from(body).includes(plain)).toBe(false);
      expect(Buffer.from(body).includes('audio/wav')).toBe(false);
    }
  });

  it('a desk sends what it recorded itself, and a second desk hears it; the student’s phone too', async () => {
    const { desk, phone, student } = await studioOfTwo();
    await turnedOn(desk, phone);
    const { id, sound } = await played(desk, student, 4);
    expect(await desk.syncWithSound()).toBe(1);
    const second = server.device();
    await second.joinBy(await desk.invite(null));
    await second.sync();
    for (const one of [second, phone]) expectSame(await one.hear(student, id), sound);
  });

  it('cut in the middle it goes on with what is missing; sent again, nothing is sent', async () => {
    const { desk, phone, student } = await studioOfTwo();
    await turnedOn(desk, phone);
    const { id, sound } = await played(phone, student, 5, LONG);
    const through = phone.fetch;
    let left = 1;
    phone.fetch = async (url, init) => {
      if (url.endsWith('/sound') && left-- <= 0) throw new TypeError('cut');
      return through(url, init);
    };
    await expect(phone.syncWithSound()).rejects.toMatchObject({ code: 'offline' });
    // What is not whole is not given out.
    expect(await desk.hear(student, id)).toBeNull();
    await expect((await desk.api()).getSound(student, id, 0)).rejects.toMatchObject({ code: 'not-found' });
    expect(await hasSound(await desk.api(), student, id)).toBe(false);
    phone.fetch = through;
    const sent = watched(phone);
    expect(await phone.syncWithSound()).toBe(1);
    expect(sent.filter(({ path }) => path === '/sound').map(({ body }) => JSON.parse(body).part)).toEqual([
      1, 2,
    ]);
    expectSame(await desk.hear(student, id), sound);
    expect(await hasSound(await desk.api(), student, id)).toBe(true);
    // A machine that has forgotten how far it was asks first.
    await phone.studio.local(phone.member!).tellAllAgain();
    sent.length = 0;
    await phone.syncWithSound();
    expect(sent.filter(({ path }) => path === '/sound')).toEqual([]);
    expect(sent.filter(({ path }) => path === '/sound/held')).toHaveLength(1);
  });

  it('stops before the next part where a test begins', async () => {
    const { desk, phone, student } = await studioOfTwo();
    await turnedOn(desk, phone);
    await played(phone, student, 6, LONG);
    const sent = watched(phone);
    await phone.syncWithSound(() => !sent.some(({ path }) => path === '/sound'));
    expect(sent.filter(({ path }) => path === '/sound')).toHaveLength(1);
    expect(await phone.syncWithSound()).toBe(1);
  });

  it('a removed machine’s keys seal nothing any more: the next sound has the new one', async () => {
    const { desk, phone, student } = await studioOfTwo();
    await turnedOn(desk, phone);
    const thief = server.device();
    await thief.joinBy(await desk.invite(student));
    const { removeDevice } = await import('../../src/studio/index.ts');
    await desk.keep(await removeDevice(await desk.api(), desk.member!, thief.member!.device));
    await expect(thief.hear(student, 'a'.repeat(32))).rejects.toMatchObject({ code: 'unknown-device' });
    // The phone has sent its row by then, under the new key; its sound alone is left.
    const { id, sound } = await played(phone, student, 7);
    expect(await phone.syncWithSound()).toBe(1);
    const [part] = await server.db.query<{ key_id: string }>(
      'select key_id from sound_parts where studio = $1 and attempt = $2',
      [desk.member!.studio, id],
    );
    expect(thief.member!.keys.map((key) => key.id)).not.toContain(part!.key_id);
    expectSame(await desk.hear(student, id), sound);
  });

  it('what was changed, swapped, shortened or put elsewhere on the server is not played', async () => {
    const { desk, phone, student } = await studioOfTwo();
    await turnedOn(desk, phone);
    const [one, other] = [await played(phone, student, 8, LONG), await played(phone, student, 9, LONG)];
    await phone.syncWithSound();
    const { studio } = desk.member!;
    const parts = () =>
      server.db.query<{ attempt: string; part: number; body: Uint8Array }>(
        'select attempt, part, body from sound_parts where studio = $1 order by attempt, part',
        [studio],
      );
    const put = (attempt: string, part: number, body: Uint8Array) =>
      server.db.query(
        `update sound_parts set body = decode($4, 'hex') where studio = $1 and attempt = $2 and part = $3`,
        [studio, attempt, part, Buffer.from(body).toString('hex')],
      );
    const kept = await parts();
    const bodyOf = (attempt: string, part: number) =>
      kept.find((row) => row.attempt === attempt && row.part === part)!.body;
    const flipped = Uint8Array.from(bodyOf(one.id, 1));
    flipped[5000]! ^= 1;
    for (const [what, part, body] of [
      ['a bit', 1, flipped],
      ['another part', 0, bodyOf(one.id, 1)],
      ['another take', 2, bodyOf(other.id, 2)],
    ] as const) {
      await put(one.id, part, body);
      await expect(desk.hear(student, one.id), what).rejects.toThrow();
      await put(one.id, part, bodyOf(one.id, part));
    }
    expectSame(await desk.hear(student, one.id), one.sound);
    await server.db.query('delete from sound_parts where studio = $1 and attempt = $2 and part = 2', [
      studio,
      one.id,
    ]);
    await server.db.query('update sounds set parts = 2 where studio = $1 and attempt = $2', [studio, one.id]);
    await expect(desk.hear(student, one.id), 'shortened').rejects.toThrow();
  });

  it('goes with its attempt, also while it is still on its way, and with its student', async () => {
    const { desk, phone, student } = await studioOfTwo();
    const { id: other } = await desk.students.add('C. D.', 'guitar');
    await turnedOn(desk, phone);
    const [goes, late, stays] = [
      await played(phone, student, 10),
      await played(phone, student, 11, LONG),
      await played(desk, other, 12),
    ];
    const through = phone.fetch;
    let parts = 0;
    phone.fetch = async (url, init) => {
      // Two parts of the second have come when the desk deletes both takes.
      if (url.endsWith('/sound') && ++parts === 4) {
        await desk.sync();
        for (const { id } of [goes, late]) await desk.attempts.remove(id);
        await desk.sync();
      }
      return through(url, init);
    };
    await phone.syncWithSound();
    expect(parts).toBe(4);
    await desk.syncWithSound();
    expect((await lying(desk)).map(({ attempt }) => attempt)).toEqual([stays.id]);
    expect(await desk.hear(student, goes.id)).toBeNull();
    expect(await desk.hear(student, late.id)).toBeNull();
    await desk.students.remove(other);
    await desk.sync();
    const { studio } = desk.member!;
    expect(
      await server.db.query('select 1 from sounds where studio = $1 and student = $2', [studio, other]),
    ).toEqual([]);
    expect(await server.db.query('select 1 from sound_parts where studio = $1', [studio])).toEqual([]);
  });

  it('goes with its attempt to another student, whose key it has from then on', async () => {
    const { desk, phone, student } = await studioOfTwo();
    const { id: right } = await desk.students.add('C. D.', 'guitar');
    await turnedOn(desk, phone);
    const theirs = server.device();
    await theirs.joinBy(await desk.invite(right));
    const { id, sound } = await played(phone, student, 13, LONG);
    await phone.syncWithSound();
    await desk.sync();
    await desk.attempts.move(id, right);
    await desk.sync();
    expect(await lying(desk)).toEqual([{ attempt: id, student: right }]);
    for (const one of [desk, theirs]) expectSame(await one.hear(right, id), sound);
    expect(await phone.hear(student, id)).toBeNull();
    // And back again.
    await desk.attempts.move(id, student);
    await desk.sync();
    expectSame(await phone.hear(student, id), sound);
  });

  it('turned off it is deleted, and nothing more is sent; on again, what is played from then on', async () => {
    const { desk, phone, student } = await studioOfTwo();
    await turnedOn(desk, phone);
    const { id } = await played(phone, student, 14);
    await phone.syncWithSound();
    const state = async () => (await desk.api()).soundState();
    expect(await state()).toMatchObject({ on: true, takes: 1 });
    await turn(desk, false);
    expect(await state()).toMatchObject({ on: false, takes: 0, bytes: 0 });
    expect(
      await server.db.query('select 1 from sound_parts where studio = $1', [desk.member!.studio]),
    ).toEqual([]);
    expect(await desk.hear(student, id)).toBeNull();
    const between = await played(phone, student, 15);
    const sent = watched(phone);
    await phone.syncWithSound();
    expect(sent.filter(isSound)).toEqual([]);
    await turnedOn(desk, phone);
    const after = await played(phone, student, 16);
    await phone.syncWithSound();
    expect((await lying(desk)).map(({ attempt }) => attempt)).toEqual([after.id]);
    expect(await desk.hear(student, between.id)).toBeNull();
    // What the phone keeps it keeps.
    expect((await phone.audio.use()).takes).toBe(3);
  });

  it('nobody but a teacher turns it on, a student’s device has to do with its own student’s alone, and nothing takes the place of what lies there', async () => {
    const { desk, phone, student } = await studioOfTwo();
    const { id: other } = await desk.students.add('C. D.', 'guitar');
    await turnedOn(desk, phone);
    const { id, sound } = await played(desk, other, 17);
    const mine = await played(phone, student, 18);
    await desk.syncWithSound();
    await phone.syncWithSound();
    const api = await phone.api();
    const part = await (await desk.api()).getSound(other, id, 0);
    const own = await api.getSound(student, mine.id, 0);
    for (const job of [
      () => api.switchSound(false),
      () => api.soundState(),
      () => api.deleteSounds([{ student, attempt: mine.id, ended: true }]),
      () => api.getSound(other, id, 0),
      () => api.heldSound({ student: other, attempts: [id] }),
      () => api.putSound({ ...part, attempt: 'b'.repeat(32) }),
      () => api.putSound({ ...own, student: other }),
    ])
      await expect(job(), String(job)).rejects.toMatchObject({ code: 'not-allowed' });
    // Another student's key, in a lie about whose it is, is none.
    await expect(api.putSound({ ...own, attempt: 'c'.repeat(32), keyId: part.keyId })).rejects.toMatchObject({
      code: 'unknown-key',
    });
    // Under its own student's name it asks for what is another's.
    await expect(api.getSound(student, id, 0)).rejects.toMatchObject({ code: 'not-found' });
    await api.putSound({ ...own, body: 'AAAA' });
    await expect(api.putSound({ ...own, parts: 2, part: 1 })).rejects.toMatchObject({ code: 'malformed' });
    await expect(api.putSound({ ...own, part: 3, parts: 2 })).rejects.toMatchObject({ code: 'malformed' });
    expectSame(await desk.hear(other, id), sound);
    expectSame(await desk.hear(student, mine.id), mine.sound);
  });

  it('the oldest makes room, and of whoever takes up the most: a flood pushes out its own', async () => {
    const small = await testServer(where, undefined, 150_000);
    const { desk, phone, student } = await studioOfTwo(small);
    const { id: other } = await desk.students.add('C. D.', 'guitar');
    await turnedOn(desk, phone);
    const kept = await played(desk, other, 20, 20_000);
    await desk.syncWithSound();
    const flood: string[] = [];
    for (let n = 0; n < 8; n++) flood.push((await played(phone, student, 21 + n, 30_000)).id);
    await phone.syncWithSound();
    expect(new Set((await lying(desk, small)).map(({ attempt }) => attempt))).toEqual(
      new Set([kept.id, ...flood.slice(-3)]),
    );
    expect((await (await desk.api()).soundState()).bytes).toBeLessThanOrEqual(150_000);
    expectSame(await desk.hear(other, kept.id), kept.sound);
    // One that alone is more than all is passed over, and the next goes.
    const [tooLong, next] = [
      await played(phone, student, 30, 160_000),
      await played(phone, student, 31, 10_000),
    ];
    await phone.syncWithSound();
    const now = (await lying(desk, small)).map(({ attempt }) => attempt);
    expect(now).not.toContain(tooLong.id);
    expect(now).toContain(next.id);
    expect(small.failures).toEqual([]);
    await small.close();
    const none = await testServer(where, undefined, 0);
    const first = await none.firstDesk();
    await expect(turn(first, true)).rejects.toMatchObject({ code: 'full' });
    await none.close();
  });

  it('an app of before is told nothing that it would refuse, and a server of before is sent nothing', async () => {
    const { desk, phone, student } = await studioOfTwo();
    await turnedOn(desk, phone);
    const pulled = (headers: Record<string, string>) =>
      bearerOf(phone.member!).then((bearer) =>
        ask(server.app, 'GET', `/pull?after=0&schema=${SCHEMA_VERSION}`, bearer, undefined, headers),
      );
    expect(Object.keys((await pulled({})).json).sort()).toEqual(['era', 'gone', 'items', 'more', 'next']);
    expect((await pulled({ 'x-studio-knows': 'sound' })).json.sound).toMatch(/^[0-9a-f]{32}$/);

    // A server that has no such routes, and says nothing of sound.
    const before =
      (through: Fetch): Fetch =>
      (url, init) => {
        const headers = { ...(init.headers as Record<string, string>) };
        delete headers['X-Studio-Knows'];
        return through(url.includes('/v1/sound') ? url.replace('/v1/sound', '/v1/none') : url, {
          ...init,
          headers,
        });
      };
    for (const one of [desk, phone]) one.fetch = before(one.fetch);
    const { id } = await played(phone, student, 40);
    const sent = watched(phone);
    expect(await phone.syncWithSound()).toBe(0);
    expect(sent.filter(isSound)).toEqual([]);
    await desk.sync();
    expect(await hasSound(await desk.api(), student, id)).toBe(false);
    expect(await desk.hear(student, id)).toBeNull();
    await expect((await desk.api()).soundState()).rejects.toMatchObject({ code: 'not-found' });
    await desk.attempts.remove(id);
    await desk.sync();
    await phone.sync();
    expect(await phone.attempts.get(id)).toBeNull();
  });
});
