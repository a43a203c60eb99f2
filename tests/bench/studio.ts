/**
 * Load on a studio's server, client and server on one machine (`npm run bench:studio -- [--seconds 60] [--rate 100]`):
 * 200 devices of 40 studios push one take each in turn at a fixed rate and pull every tenth time; then a device that was
 * away for a year fetches 5,000 rows. With `TWOBAR_POSTGRES` of an empty database beside PGlite in memory. Bodies are
 * random bytes of a take's packed size: the server cannot tell them from real ones.
 */
import { performance } from 'node:perf_hooks';
import { openDatabase } from '../../studio/database/open.ts';
import { makeServer } from '../../studio/app.ts';
import { newStudio } from '../../studio/setup.ts';
import { begin, invite, join, readInvitation, apiOf } from '../../src/studio/index.ts';
import type { Membership } from '../../src/studio/index.ts';
import { newId, randomBytes, toBase64Url } from '../../src/studio/bytes.ts';
import { SCHEMA_VERSION } from '../../src/store/schema/migrations.ts';
import { fftMicroseconds } from './yardstick.ts';

const option = (name: string, usual: number): number => {
  const at = process.argv.indexOf(`--${name}`);
  return at < 0 ? usual : Number(process.argv[at + 1]);
};
const SECONDS = option('seconds', 60);
const RATE = option('rate', 100);
const STUDIOS = option('studios', 40);
const DEVICES = 5;
const TAKE_BYTES = 1800;
const YEAR_ROWS = option('rows', 5000);

const at = (sorted: readonly number[], share: number): string =>
  (sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? NaN).toFixed(1);
const line = (name: string, times: number[]): string => {
  times.sort((a, b) => a - b);
  return `| ${name} | ${times.length} | ${at(times, 0.5)} | ${at(times, 0.95)} | ${at(times, 0.99)} |`;
};

async function measure(where: string | undefined): Promise<void> {
  const db = await openDatabase(where);
  const app = await makeServer({
    db,
    rates: { address: 1e9, device: 1e9, join: 1e9 },
    onFailure: (error) => console.error(error),
  });
  const origin = await app.listen({ host: '127.0.0.1', port: 0 });
  const wire = (url: string, init: RequestInit) => fetch(url, init);
  const all: { member: Membership; api: Awaited<ReturnType<typeof apiOf>>; cursor: number }[] = [];
  const enter = async (member: Membership) =>
    void all.push({ member, api: await apiOf(wire, origin, member), cursor: 0 });
  for (let n = 0; n < STUDIOS; n++) {
    const first = await join(
      wire,
      origin,
      begin(readInvitation(await newStudio(db, Date.now()), true)!, 'first'),
    );
    await enter(first);
    const api = await apiOf(wire, origin, first);
    for (let more = 1; more < DEVICES; more++)
      await enter(await join(wire, origin, begin((await invite(api, first, null, 600)).invitation, 'more')));
  }
  const item = ({ studio, keys }: Membership) => ({
    ...{ id: newId(), scope: studio, lane: 'desk' as const, keyId: keys[0]!.id },
    body: toBase64Url(randomBytes(TAKE_BYTES)),
  });
  const pushes: number[] = [];
  const pulls: number[] = [];
  const begun = performance.now();
  const running: Promise<void>[] = [];
  for (let n = 0; n < SECONDS * RATE; n++) {
    const due = begun + (n * 1000) / RATE;
    const wait = due - performance.now();
    if (wait > 0) await new Promise((resolve) => setTimeout(resolve, wait));
    const device = all[n % all.length]!;
    running.push(
      (async () => {
        await device.api.push({ schema: SCHEMA_VERSION, items: [item(device.member)], drop: [] });
        // From when it was due: a queue in front of the server counts.
        pushes.push(performance.now() - due);
        if (n % 10 !== 0) return;
        const before = performance.now();
        device.cursor = (await device.api.pull(device.cursor, SCHEMA_VERSION)).next;
        pulls.push(performance.now() - before);
      })(),
    );
  }
  await Promise.all(running);
  const seconds = (performance.now() - begun) / 1000;
  const [one] = all;
  for (let sent = 0; sent < YEAR_ROWS; sent += 500)
    await one!.api.push({
      schema: SCHEMA_VERSION,
      items: Array.from({ length: 500 }, () => item(one!.member)),
      drop: [],
    });
  const since = performance.now();
  let [cursor, rows, bytes] = [0, 0, 0];
  for (let more = true; more;) {
    const page = await one!.api.pull(cursor, SCHEMA_VERSION);
    rows += page.items.length;
    bytes += page.items.reduce((sum, { body }) => sum + body.length, 0);
    ({ next: cursor, more } = page);
  }
  const away = (performance.now() - since) / 1000;
  console.log(
    `\n${db.engine}: ${all.length} devices of ${STUDIOS} studios, ${RATE} pushes/s asked, ${(pushes.length / seconds).toFixed(1)} done; 2048-point FFT ${fftMicroseconds().toFixed(0)} µs`,
  );
  console.log('| ms | number | p50 | p95 | p99 |\n|---|---|---|---|---|');
  console.log(line('push', pushes));
  console.log(line('pull', pulls));
  console.log(
    `memory of client and server ${(process.memoryUsage().rss / 1e6).toFixed(0)} MB; ${rows} rows after a year away: ${away.toFixed(2)} s, ${(bytes / 1e6).toFixed(1)} MB of base64url, without decrypting and writing them`,
  );
  await app.close();
  await db.close();
}

await measure(undefined);
if (process.env['TWOBAR_POSTGRES']) await measure(process.env['TWOBAR_POSTGRES']);
