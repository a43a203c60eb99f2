import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { connect, createServer } from 'node:net';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ROUTES } from '../../src/studio/wire.ts';
import { Device } from '../studio/support/devices.ts';
import { ask, bearerOf } from '../studio/support/raw.ts';
import { testServer } from '../studio/support/server.ts';

/** A share of all that is tried, as in the other long tests. */
const SHARE = Number(process.env['TWOBAR_FUZZ'] ?? 1);

describe('bodies that anybody may send', () => {
  it('2,000 of every kind to every route: a sentence or an answer, never a failure, and what must stay stays', async () => {
    const server = await testServer();
    const desk = await server.firstDesk();
    const { id } = await desk.students.add('Stays', 'guitar');
    await desk.sync();
    const phone = server.device();
    await phone.joinBy(await desk.invite(id));
    const bearers = [await bearerOf(desk.member!), await bearerOf(phone.member!), null, 'Bearer x'];
    const known = [id, desk.member!.studio, desk.member!.keys[0]!.id, 'teacher', 'shared', 'AAAA', 5];
    const words = fc.constantFrom(
      ...['schema', 'items', 'drop', 'keys', 'envelopes', 'id', 'scope', 'lane', 'keyId', 'body'],
    );
    const value: fc.Arbitrary<unknown> = fc.letrec((tie) => ({
      any: fc.oneof(
        { maxDepth: 4 },
        fc.constantFrom(...known),
        fc.jsonValue(),
        fc.array(tie('any'), { maxLength: 4 }),
        fc.dictionary(words, tie('any'), { maxKeys: 8 }),
      ),
    })).any;
    const body = fc.oneof(
      value,
      fc.record({
        schema: fc.constantFrom(5, 4, 0, '5'),
        items: fc.array(
          fc.record({
            id: fc.constantFrom(...known),
            scope: fc.constantFrom(...known),
            lane: fc.constantFrom('shared', 'desk', 'x'),
            keyId: fc.constantFrom(...known),
            body: fc.string(),
          }),
          { maxLength: 3 },
        ),
        drop: fc.array(fc.string(), { maxLength: 2 }),
      }),
      fc.string().map((text) => `{${text}`),
      fc.uint8Array({ maxLength: 200 }).map((bytes) => Buffer.from(bytes).toString('latin1')),
    );
    const posts = Object.keys(ROUTES).filter(
      (route) => route.startsWith('POST') && !/delete|withdraw/.test(route),
    );
    let tried = 0;
    await fc.assert(
      fc.asyncProperty(
        body,
        fc.nat(posts.length - 1),
        fc.nat(3),
        fc.constantFrom(id, 'x', '0'.repeat(32), '%27'),
        async (sent, route, who, place) => {
          const path = posts[route]!.slice(5).replace(':id', place);
          const answer = await ask(server.app, 'POST', path, bearers[who]!, sent);
          tried += 1;
          expect(answer.status).toBeLessThan(500);
          expect(answer.json).not.toBeNull();
          if (answer.status >= 400) expect(answer.json.sentence).toMatch(/\.$/);
        },
      ),
      { seed: 20_261_128, numRuns: Math.max(20, Math.floor(2000 * SHARE)) },
    );
    expect(tried).toBeGreaterThanOrEqual(20);
    expect(server.failures).toEqual([]);
    const second = server.device();
    await second.joinBy(await desk.invite(null));
    await second.sync();
    expect((await second.students.all()).map(({ name }) => name)).toEqual(['Stays']);
    await server.close();
  });
});

/** The real server as its own process, on a folder that outlives it. */
async function start(
  folder: string,
  port: number,
): Promise<{ readonly process: ChildProcess; readonly link: string | null }> {
  const child = spawn(process.execPath, ['--import', 'tsx', 'studio/main.ts'], {
    env: {
      ...process.env,
      STUDIO_FOLDER: folder,
      PORT: String(port),
      DATABASE_URL: process.env['TWOBAR_POSTGRES'],
    },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  let said = '';
  await new Promise<void>((resolve, reject) => {
    child.stdout!.on('data', (data: Buffer) => {
      said += data.toString();
      if (/first\/\S+\n/.test(said)) resolve();
      else if (said.includes('Twobar and its studio')) setTimeout(resolve, 300);
    });
    child.once('exit', (code) => reject(new Error(`the server ended with ${code}: ${said}`)));
  });
  return { process: child, link: /first\/(\S+)/.exec(said)?.[1] ?? null };
}

const freePort = (): Promise<number> =>
  new Promise((resolve) => {
    const probe = createServer().listen(0, '127.0.0.1', () => {
      const { port } = probe.address() as AddressInfo;
      probe.close(() => resolve(port));
    });
  });

describe('a server that is killed', () => {
  it('at random moments of 200 pushes: what was acknowledged is there, once, and nothing is twice', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'twobar-studio-'));
    const port = await freePort();
    let server = await start(folder, port);
    const desk = new Device((url, init) => fetch(`http://127.0.0.1:${port}${url}`, init));
    await desk.founded(server.link!);
    const { id } = await desk.students.add('Kept', 'guitar');
    await desk.sync();
    const pushes = Math.max(20, Math.floor(200 * SHARE));
    const random = fc.sample(fc.nat(1000), { seed: 7, numRuns: pushes });
    const acknowledged: string[] = [];
    let kills = 0;
    let cut = 0;
    for (let n = 0; n < pushes; n++) {
      const note = await desk.students.addNote(id, `note ${n}`);
      const kill =
        random[n]! < 150 ? setTimeout(() => void server.process.kill('SIGKILL'), random[n]! % 12) : null;
      try {
        await desk.sync();
        acknowledged.push(note.id);
      } catch {
        cut += 1;
      }
      if (kill === null) continue;
      kills += 1;
      await new Promise((resolve) =>
        server.process.exitCode === null && server.process.signalCode === null
          ? server.process.once('exit', resolve)
          : resolve(null),
      );
      // What was acknowledged before the kill is asked for at once, by a machine that has nothing.
      server = await start(folder, port);
      if (n % 5 === 0) await desk.sync();
    }
    await desk.sync();
    const second = new Device((url, init) => fetch(`http://127.0.0.1:${port}${url}`, init));
    await second.joinBy(await desk.invite(null));
    await second.sync();
    const there = (await second.students.notes(id)).map((note) => note.id);
    expect(new Set(there).size).toBe(there.length);
    expect(there).toEqual(expect.arrayContaining(acknowledged));
    expect(there.sort()).toEqual((await desk.students.notes(id)).map((note) => note.id).sort());
    process.stdout.write(
      `${pushes} pushes, ${kills} kills, ${cut} cut, ${acknowledged.length} acknowledged at once, ${there.length} there\n`,
    );
    expect(kills).toBeGreaterThan(0);
    server.process.kill('SIGKILL');
    rmSync(folder, { recursive: true });
  }, 900_000);
});

describe('a proxy that cuts connections', () => {
  it('in the middle of bodies, both ways: after enough tries all is there, once', async () => {
    const server = await testServer();
    const address = await server.app.listen({ host: '127.0.0.1', port: 0 });
    const upstream = Number(new URL(address).port);
    let budget = Infinity;
    const proxy = createServer((socket) => {
      const up = connect(upstream, '127.0.0.1');
      let left = budget;
      const pass = (from: typeof socket, to: typeof socket) =>
        from.on('data', (data) => {
          to.write(data.subarray(0, Math.max(0, left)));
          left -= data.length;
          if (left >= 0) return;
          socket.destroy();
          up.destroy();
        });
      pass(socket, up);
      pass(up, socket);
      for (const [one, two] of [
        [socket, up],
        [up, socket],
      ] as const) {
        one.on('error', () => two.destroy());
        one.on('close', () => two.destroy());
      }
    }).listen(0, '127.0.0.1');
    await new Promise((resolve) => proxy.once('listening', resolve));
    const through = (proxy.address() as AddressInfo).port;
    const cutting = () =>
      new Device((url, init) =>
        fetch(`http://127.0.0.1:${through}${url}`, {
          ...init,
          headers: { ...(init.headers as object), connection: 'close' },
        }),
      );
    const desk = cutting();
    await desk.founded(await server.newStudio());
    const { id } = await desk.students.add('Kept', 'guitar');
    for (let n = 0; n < 300; n++) await desk.students.addNote(id, `note ${n} ${'x'.repeat(n)}`);
    let cuts = 0;
    const sync = async (device: Device): Promise<void> => {
      for (let allowed = 300; ; allowed += 1900) {
        budget = allowed;
        const done = await device.sync().then(
          () => true,
          () => ((cuts += 1), false),
        );
        budget = Infinity;
        if (done) return;
      }
    };
    await sync(desk);
    const second = cutting();
    await second.joinBy(await desk.invite(null));
    await sync(second);
    expect(cuts).toBeGreaterThan(5);
    expect(await second.records()).toEqual(await desk.records());
    expect(server.failures).toEqual([]);
    proxy.close();
    await server.close();
  }, 300_000);
});
