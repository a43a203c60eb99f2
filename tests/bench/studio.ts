import 'fake-indexeddb/auto';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { performance } from 'node:perf_hooks';
import { loadavg } from 'node:os';
import { openDatabase } from '../../studio/database/open.ts';
import { newStudio } from '../../studio/setup.ts';
import { freePort, serverProcess } from '../studio/support/process.ts';
import { newDatabase, postgresPrograms, startPostgres } from '../support/postgres.ts';
import { figuresOf } from './figures.ts';
import { catchUp } from './studio/catchUp.ts';
import { at, KINDS, live, push, steady, studioOf } from './studio/crowd.ts';
import type { Machine, Times } from './studio/crowd.ts';
import { taken } from './studio/machine.ts';
import type { Taken } from './studio/machine.ts';
import { week } from './studio/week.ts';
import type { Event } from './studio/week.ts';
import { fftMicroseconds, QUIET_CORE_US } from './yardstick.ts';

/**
 * Load on a studio's server, client and server on one machine: a week of 200 devices of 40 studios in ten minutes; 100
 * pushes a second; more and more of them until it breaks; more and more studios; a desk that was away for a year.
 *
 *   npm run bench:studio -- [--minutes 10] [--pace 1] [--studios 40] [--rows 5000] [--only pglite|postgres] [--growth]
 *
 * `--minutes`: of the week, which goes by at 16.8 hours a minute from noon of Monday, on a slower machine than the
 * yardstick's quiet core at as much less, or at `--pace` of it; `--growth`: the steps of rate and
 * of studios too. PGlite lies in a folder, PostgreSQL is a server of our own with nothing switched off; both on this
 * machine's temporary disk. The catch-up needs the built app (`npm run build`).
 */
figuresOf('studio', 'bench:studio');

const option = (name: string, usual: string): string => {
  const found = process.argv.indexOf(`--${name}`);
  return found < 0 ? usual : process.argv[found + 1]!;
};
const MINUTES = Number(option('minutes', '10'));
const STUDIOS = Number(option('studios', '40'));
const ROWS = Number(option('rows', '5000'));
const ONLY = option('only', '');
const GROWTH = process.argv.includes('--growth');
const SEED = 20_261_130;
const FFT_US = fftMicroseconds();
/** The week is one for the quiet core of the yardstick: on a slower machine it goes by as much more slowly. */
const PACE = Number(option('pace', String(Math.min(1, QUIET_CORE_US / FFT_US))));
const HOURS_A_SECOND = (168 / 600) * PACE;
const BUILT = existsSync(resolve(import.meta.dirname, '../../dist/index.html'));
/** Nobody waits longer; a rate that comes to it is the last. */
const SLOW_MS = 2000;

const row = (cells: readonly (string | number)[]): void => console.log(`| ${cells.join(' | ')} |`);
const ms = (values: readonly number[]): string[] =>
  [0.5, 0.95, 0.99].map((share) => (values.length === 0 ? '' : at(values, share).toFixed(1)));
const HEAD = ['', 'pushes', 'p50 ms', 'p95', 'p99', 'pulls', 'p50 ms', 'p95', 'p99', 'failed', 'pushes/s'];
const head = (cells: readonly string[]): void => (row(cells), row(cells.map(() => '---')));
const line = (name: string, { push, pull, failed, seconds }: Times): void =>
  row([name, push.length, ...ms(push), pull.length, ...ms(pull), failed, (push.length / seconds).toFixed(1)]);

/** Requests a second in the ten seconds of the bench in which most are due. */
function busiest(events: readonly Event[]): number {
  const counts = new Map<number, number>();
  for (const { atHour } of events) {
    const slot = Math.floor(atHour / HOURS_A_SECOND / 10);
    counts.set(slot, (counts.get(slot) ?? 0) + 1);
  }
  return Math.round(Math.max(0, ...counts.values()) / 10);
}

async function measure(engine: 'pglite' | 'postgres'): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'twobar-bench-'));
  const bin = engine === 'postgres' ? postgresPrograms() : null;
  if (engine === 'postgres' && bin === null) return;
  const postgres = bin === null ? null : await startPostgres(bin, { folder });
  const place = postgres ? { database: await newDatabase(postgres.url) } : { folder: join(folder, 'studio') };
  const port = await freePort();
  // PGlite's folder takes one process at a time: links to further studios are made before the server starts.
  const db = await openDatabase('folder' in place ? place.folder : place.database);
  const most = GROWTH ? STUDIOS * 8 : STUDIOS;
  const links: string[] = [];
  for (let n = 0; n < most + 1; n++) links.push(await newStudio(db, Date.now()));
  await db.close();
  const server = await serverProcess(place, port, { TRUST_PROXY: '1' });
  const weigh = (): { server: Taken; database: Taken | null } => ({
    server: taken(server.pid),
    database: postgres && taken(postgres.pid()),
  });
  try {
    const machines: Machine[] = [];
    const enter = async (studios: number): Promise<void> => {
      for (let n = machines.length / KINDS.length; n < studios; n++)
        machines.push(...(await studioOf(server.url, links[n]!, n)));
    };
    await enter(STUDIOS);
    const before = weigh();
    console.log(
      `\n## ${postgres ? 'PostgreSQL' : 'PGlite'}: ${machines.length} devices of ${STUDIOS} studios\n`,
    );
    head(HEAD);
    const events = week(
      machines.map(({ kind }) => kind),
      SEED,
    ).filter(({ atHour }) => atHour < MINUTES * 60 * HOURS_A_SECOND);
    const lived = await live(machines, events, HOURS_A_SECOND);
    const hours = Math.min(168, MINUTES * 60 * HOURS_A_SECOND);
    line(
      `${hours.toFixed(0)} hours of the week in ${(hours / HOURS_A_SECOND / 60).toFixed(0)} minutes`,
      lived,
    );
    const after = weigh();
    for (const rate of GROWTH ? [25, 50, 100, 200, 400, 800] : [100]) {
      const seconds = rate === 100 ? 60 : 10;
      const times = await live(machines, steady(machines.length, rate, seconds), 1);
      line(`${rate} pushes a second for ${seconds} s`, times);
      if (!(at(times.push, 0.95) < SLOW_MS)) break;
    }
    if (GROWTH)
      for (const times of [2, 4, 8]) {
        await enter(STUDIOS * times);
        line(
          `${STUDIOS * times} studios, ${machines.length} devices, 50 a second for 20 s`,
          await live(machines, steady(machines.length, 50, 20), 1),
        );
      }
    console.log(
      `\nThe week goes by at ${(HOURS_A_SECOND * 3600).toFixed(0)} times its speed: in its busiest ten seconds ${busiest(events)} requests were due a second.`,
    );
    const share = (one: Taken, earlier: Taken): string =>
      `${one.memoryMb.toFixed(0)} MB (${earlier.memoryMb.toFixed(0)} before), ${(((one.cpuSec - earlier.cpuSec) / lived.seconds) * 100).toFixed(0)} % of a core`;
    console.log(
      `\nDuring the week: server ${share(after.server, before.server)}${after.database ? `; PostgreSQL ${share(after.database, before.database!)}` : ''}.`,
    );
    const begun = performance.now();
    for (let sent = 0; sent < ROWS; sent += 500) await push(machines[0]!, 500);
    console.log(
      `${ROWS} rows pushed by 500: ${(ROWS / ((performance.now() - begun) / 1000)).toFixed(0)} rows/s.`,
    );
    if (BUILT) {
      const caught = await catchUp(server.url, links[most]!, ROWS);
      console.log(
        `A desk that was away for a year, in Chromium: ${caught.rows} takes fetched, opened, checked and written in ${caught.seconds.toFixed(2)} s; ${(caught.bytes / 1e6).toFixed(2)} MB over the wire in ${caught.requests} requests.`,
      );
    } else console.log('The app is not built: no catch-up in a browser.');
    const complained = new Map<string, number>();
    for (const [said] of server.complaints().matchAll(/^\S.*$/gm))
      complained.set(said, (complained.get(said) ?? 0) + 1);
    for (const [said, times] of complained) console.log(`\nThe server complained, ${times} times: ${said}`);
  } finally {
    server.kill();
    await server.ended;
    if (postgres) await postgres.remove();
    rmSync(folder, { recursive: true, force: true });
  }
}

console.log(
  `2048-point FFT ${FFT_US.toFixed(0)} µs; load of the machine before it began: ${loadavg()
    .map((one) => one.toFixed(1))
    .join(', ')}`,
);
for (const engine of ['postgres', 'pglite'] as const)
  if (ONLY === '' || ONLY === engine) await measure(engine);
