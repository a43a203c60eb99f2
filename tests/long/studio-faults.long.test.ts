import { mkdtempSync, rmSync } from 'node:fs';
import { connect, createServer } from 'node:net';
import type { AddressInfo, Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { describe, expect, it, onTestFinished } from 'vitest';
import { makeRandom } from '../../audio-fixtures/random.ts';
import { openDatabase } from '../../studio/database/open.ts';
import { newStudio } from '../../studio/setup.ts';
import { Device } from '../studio/support/devices.ts';
import { clientsOf, load, rowsOfStudio } from '../studio/support/load.ts';
import { freePort, serverProcess } from '../studio/support/process.ts';
import type { Place, ServerProcess } from '../studio/support/process.ts';
import { ENGINES, engineName } from '../studio/support/server.ts';
import { newDatabase, postgresPrograms, startPostgres } from '../support/postgres.ts';
import { smallDisk } from '../support/small-disk.ts';

/** A share of all that is tried, as in the other long tests. */
const SHARE = Number(process.env['TWOBAR_FUZZ'] ?? 1);
/** When the faults happen; each run prints it. */
const SEED = Number(process.env['TWOBAR_FAULT_SEED'] ?? 20_261_130);
const say = (text: string): void => void process.stdout.write(`${text}; seed ${SEED}\n`);
const share = (count: number): number => Math.max(10, Math.floor(count * SHARE));

/** A place for one studio, gone when the test is over. */
async function newPlace(where: string | undefined): Promise<Place> {
  if (where !== undefined) return { database: await newDatabase(where) };
  const folder = mkdtempSync(join(tmpdir(), 'twobar-studio-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return { folder };
}
/** A device that speaks to whichever server listens there now. */
const deviceAt = (url: string): Device => new Device((path, init) => fetch(`${url}${path}`, init));

/** Every row that was acknowledged lies there, and none twice; the reader has each once, in the order of its place. */
function holds(there: readonly string[], told: Awaited<ReturnType<typeof load>>): void {
  expect(new Set(there).size).toBe(there.length);
  expect([...there].sort()).toEqual([...told.acknowledged].sort());
  expect(told.read).toEqual(there);
}

describe.each(ENGINES)('a studio that meets with accidents', (where) => {
  const engine = engineName(where);

  it(`${engine}: killed at random moments of 200 pushes, it keeps what it acknowledged, once`, async () => {
    const random = makeRandom(SEED);
    const place = await newPlace(where);
    const port = await freePort();
    let server = await serverProcess(place, port);
    const desk = deviceAt(server.url);
    await desk.founded(server.link!);
    const { id } = await desk.students.add('Kept', 'guitar');
    await desk.sync();
    const acknowledged: string[] = [];
    let [kills, cut] = [0, 0];
    for (let n = 0; n < share(200); n++) {
      const note = await desk.students.addNote(id, `note ${n}`);
      const dies = random.next() < 0.15;
      const pushed = desk.sync().then(
        () => acknowledged.push(note.id),
        () => (cut += 1),
      );
      if (dies) {
        kills += 1;
        await pause(random.next() * 30);
        server.kill();
        await server.ended;
      }
      await pushed;
      if (dies) server = await serverProcess(place, port);
    }
    await desk.sync();
    const second = deviceAt(server.url);
    await second.joinBy(await desk.invite(null));
    await second.sync();
    const there = (await second.students.notes(id)).map((note) => note.id);
    say(
      `${engine}: ${share(200)} pushes, ${kills} kills of the server, ${cut} rounds cut, ${acknowledged.length} acknowledged at once, ${there.length} there`,
    );
    expect(new Set(there).size).toBe(there.length);
    expect(there).toEqual(expect.arrayContaining(acknowledged));
    expect(there.sort()).toEqual((await desk.students.notes(id)).map((note) => note.id).sort());
    expect(kills).toBeGreaterThan(0);
    expect(cut).toBeGreaterThan(0);
    server.kill();
  });

  it(`${engine}: killed while four devices push at once, it keeps what it acknowledged, once`, async () => {
    const random = makeRandom(SEED);
    const place = await newPlace(where);
    const port = await freePort();
    let server = await serverProcess(place, port);
    const at = (path: string, init: RequestInit) => fetch(`${server.url}${path}`, init);
    const clients = await clientsOf(at, server.link!, 4);
    let [over, kills] = [false, 0];
    const killing = (async () => {
      for (;;) {
        await pause(20 + random.next() * 250);
        if (over) return;
        server.kill();
        await server.ended;
        kills += 1;
        server = await serverProcess(place, port);
      }
    })();
    const told = await load(clients, share(50));
    over = true;
    await killing;
    server.kill();
    await server.ended;
    const db = await openDatabase('folder' in place ? place.folder : place.database);
    holds(await rowsOfStudio(db, clients[0]!.member.studio), told);
    await db.close();
    say(
      `${engine}: ${told.acknowledged.length} pushes of four devices, ${kills} kills of the server, ${told.failed} requests failed and were tried again`,
    );
    expect(kills).toBeGreaterThan(0);
    expect(told.failed).toBeGreaterThan(0);
  });

  it(`${engine}: behind a proxy that cuts connections in the middle of bodies, both ways, all arrives once`, async () => {
    const random = makeRandom(SEED);
    const place = await newPlace(where);
    const server = await serverProcess(place, await freePort());
    const upstream = Number(new URL(server.url).port);
    /** How many bytes the next connection carries each way; null: all. */
    let carries: { readonly up: number; readonly down: number } | null = null;
    const cuts = { up: 0, down: 0 };
    const proxy = createServer((near) => {
      const far = connect(upstream, '127.0.0.1');
      const limits = carries;
      const pass = (from: Socket, to: Socket, way: 'up' | 'down'): void => {
        let left = limits?.[way] ?? Infinity;
        from.on('data', (data) => {
          to.write(data.subarray(0, Math.max(0, left)));
          left -= data.length;
          if (left >= 0 || near.destroyed) return;
          cuts[way] += 1;
          // What was let through arrives, and then nothing more.
          setTimeout(() => (near.destroy(), far.destroy()), 5);
        });
        from.on('error', () => to.destroy());
        from.on('close', () => to.destroy());
      };
      pass(near, far, 'up');
      pass(far, near, 'down');
    }).listen(0, '127.0.0.1');
    await new Promise((resolve) => proxy.once('listening', resolve));
    onTestFinished(() => void proxy.close());
    const through = `http://127.0.0.1:${(proxy.address() as AddressInfo).port}`;
    const cutting = (): Device =>
      new Device((path, init) =>
        fetch(`${through}${path}`, {
          ...init,
          headers: { ...(init.headers as object), connection: 'close' },
        }),
      );
    const rounds = async (device: Device): Promise<void> => {
      for (let most = 2_000; ; most += 3_000) {
        // Each time one way is cut somewhere, further on the longer it has been tried.
        const [up, down] =
          random.next() < 0.5 ? [random.next() * most, Infinity] : [Infinity, random.next() * most];
        carries = { up: Math.ceil(up), down: Math.ceil(down) };
        const done = await device.sync().then(
          () => true,
          () => false,
        );
        carries = null;
        if (done) return;
      }
    };
    const desk = cutting();
    await desk.founded(server.link!);
    const { id } = await desk.students.add('Kept', 'guitar');
    for (let n = 0; n < 400; n++) await desk.students.addNote(id, `note ${n} ${'x'.repeat(n)}`);
    await rounds(desk);
    const second = cutting();
    await second.joinBy(await desk.invite(null));
    await rounds(second);
    await desk.sync();
    say(`${engine}: connections cut ${cuts.up} on the way up, ${cuts.down} on the way down`);
    expect(cuts.up).toBeGreaterThan(0);
    expect(cuts.down).toBeGreaterThan(0);
    expect(await second.records()).toEqual(await desk.records());
    expect(server.complaints().replace(/^The app is not built.*\n/, '')).toBe('');
    server.kill();
    await server.ended;
    const db = await openDatabase('folder' in place ? place.folder : place.database);
    const ids = await rowsOfStudio(db, desk.member!.studio);
    await db.close();
    expect(new Set(ids).size).toBe(ids.length);
  });
});

const bin = postgresPrograms();

describe.runIf(bin !== null)('a studio whose PostgreSQL meets with accidents', () => {
  it('goes on when it is killed and started again under load, and nothing that was acknowledged is lost', async () => {
    const random = makeRandom(SEED);
    const postgres = await startPostgres(bin!);
    onTestFinished(() => postgres.remove());
    const database = await newDatabase(postgres.url);
    const server = await serverProcess({ database }, await freePort());
    const db = await openDatabase(database);
    const at = (path: string, init: RequestInit) => fetch(`${server.url}${path}`, init);
    const studios = [
      await clientsOf(at, server.link!, 3),
      await clientsOf(at, await newStudio(db, Date.now()), 3),
    ];
    await db.close();
    let [over, kills] = [false, 0];
    const killing = (async () => {
      while (!over) {
        await pause(150 + random.next() * 700);
        if (over) break;
        kills += 1;
        // Now the whole server, now one of its processes, after which it starts itself again.
        if (random.next() < 0.5) {
          await postgres.kill();
          await pause(random.next() * 300);
          await postgres.start();
        } else await postgres.crash(random.next());
      }
    })();
    const told = await Promise.all(studios.map((clients) => load(clients, share(400))));
    over = true;
    await killing;
    const after = await openDatabase(database);
    for (const [i, [first]] of studios.entries())
      holds(await rowsOfStudio(after, first!.member.studio), told[i]!);
    await after.close();
    const failed = told.reduce((sum, one) => sum + one.failed, 0);
    say(
      `PostgreSQL killed ${kills} times under ${told.reduce((sum, one) => sum + one.acknowledged.length, 0)} pushes; ${failed} requests failed and were tried again`,
    );
    expect(kills).toBeGreaterThan(2);
    expect(failed).toBeGreaterThan(0);
    expect(server.alive()).toBe(true);
    server.kill();
  });
});

describe.each(['PGlite', ...(bin === null ? [] : ['PostgreSQL'])])('a full disk', (engine) => {
  it(`${engine}: refuses what it cannot keep, loses nothing that it acknowledged, and goes on once there is room`, async ({
    skip,
  }) => {
    const disk = smallDisk(engine === 'PGlite' ? 160 : 200);
    if (disk === null) return skip('only root on Linux may make a disk to fill');
    onTestFinished(() => disk.remove());
    const postgres = engine === 'PGlite' ? null : await startPostgres(bin!, { folder: disk.path });
    if (postgres) onTestFinished(() => postgres.kill());
    const place: Place = postgres
      ? { database: await newDatabase(postgres.url) }
      : { folder: join(disk.path, 'studio') };
    const port = await freePort();
    let server: ServerProcess = await serverProcess(place, port);
    // As systemd would: a server that ended is started again, as soon as its database lets it.
    let [over, starts] = [false, 0];
    const minding = (async () => {
      while (!over) {
        await pause(50);
        if (server.alive() || over) continue;
        await serverProcess(place, port).then(
          (next) => ((server = next), (starts += 1)),
          () => undefined,
        );
      }
    })();
    const at = (path: string, init: RequestInit) => fetch(`http://127.0.0.1:${port}${path}`, init);
    const clients = await clientsOf(at, server.link!, 3);
    const running = load(clients, share(300));
    for (let n = 0; n < 3; n++) {
      await pause(400);
      disk.fill();
      await pause(1500);
      disk.makeRoom();
      await postgres?.start();
    }
    const told = await running;
    over = true;
    await minding;
    server.kill('SIGTERM');
    await server.ended;
    const db = await openDatabase('folder' in place ? place.folder : place.database);
    holds(await rowsOfStudio(db, clients[0]!.member.studio), told);
    await db.close();
    say(
      `${engine}: the disk was full 3 times under ${told.acknowledged.length} pushes; ${told.failed} requests failed and were tried again, the server was started anew ${starts} times`,
    );
    expect(told.failed).toBeGreaterThan(0);
  });
});
