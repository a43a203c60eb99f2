import { execFileSync, spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { chownSync, existsSync, mkdtempSync, openSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { install, isDebianRoot } from './debian.ts';

/** A PostgreSQL server of our own, in a folder of its own and behind a socket there; nothing else can reach it. */
export interface PostgresServer {
  /** As `DATABASE_URL`, of the database that is always there. */
  readonly url: string;
  /** Of its first process, whose children do the work. */
  readonly pid: () => number;
  /** Ends at once, all of its processes by SIGKILL, as if the machine had lost its power (but for the disk's own memory). */
  kill(): Promise<void>;
  /** One of its processes ends by SIGKILL, after which it throws all out and recovers by itself. @param which 0 ≤ x < 1 */
  crash(which: number): Promise<void>;
  /** Starts it again on what lies in the folder. */
  start(): Promise<void>;
  /** Ends it and takes its folder away. */
  remove(): Promise<void>;
}

/** Debian's folder of programs, the newest; else what `pg_config` names. Wrappers on the search path are passed by. */
function programs(): string | null {
  const debian = '/usr/lib/postgresql';
  const versions = existsSync(debian) ? readdirSync(debian).sort((a, b) => Number(b) - Number(a)) : [];
  const folders = versions.map((version) => join(debian, version, 'bin'));
  try {
    const told = execFileSync('pg_config', ['--bindir'], { stdio: ['ignore', 'pipe', 'ignore'] });
    folders.push(told.toString().trim());
  } catch {
    // None is installed but perhaps Debian's.
  }
  return folders.find((folder) => existsSync(join(folder, 'initdb'))) ?? null;
}

/**
 * The programs of PostgreSQL; where there are none, Debian's or Ubuntu's package is brought (root only).
 * @returns null where there is none to be had, having said so in one line
 * @throws Error instead where CI is set: there nothing may be passed over
 */
export function postgresPrograms(): string | null {
  let found = programs();
  if (found === null && isDebianRoot()) {
    install(['postgresql']);
    found = programs();
  }
  if (found !== null) return found;
  const why = 'No PostgreSQL here: install Debian’s postgresql, or be root and have it installed.';
  if (process.env['CI']) throw new Error(why);
  process.stderr.write(`${why} The tests of the studio run on PGlite alone.\n`);
  return null;
}

/** PostgreSQL refuses to be run by root: then it is the user of Debian's package, or nobody. */
function owner(): { readonly uid: number; readonly gid: number } | null {
  if (process.getuid?.() !== 0) return null;
  const users = readFileSync('/etc/passwd', 'utf8')
    .split('\n')
    .map((line) => line.split(':'));
  const found = ['postgres', 'nobody'].flatMap((name) => users.find(([user]) => user === name) ?? []);
  return { uid: Number(found[2]), gid: Number(found[3]) };
}

/** Without these it may forget what it acknowledged, if the machine (not the server) falls over; tests are quicker so. */
const HASTY = ['fsync=off', 'full_page_writes=off'];

/**
 * Makes a cluster and starts it.
 * @param options.folder where; else a new one among the temporary files
 * @param options.hasty for tests in which nothing is killed
 */
export async function startPostgres(
  bin: string,
  options: { readonly folder?: string; readonly hasty?: boolean } = {},
): Promise<PostgresServer> {
  const own = owner();
  const folder = options.folder ?? mkdtempSync(join(tmpdir(), 'twobar-postgres-'));
  if (own) chownSync(folder, own.uid, own.gid);
  const data = join(folder, 'data');
  const common = { ...(own ?? {}), cwd: folder, env: { PATH: process.env['PATH'], LC_ALL: 'C' } };
  const how = ['--username=studio', '--auth=trust', '--encoding=UTF8', '--no-locale', '--no-sync'];
  execFileSync(join(bin, 'initdb'), [...how, data], { ...common, stdio: ['ignore', 'ignore', 'inherit'] });
  const settings = [
    ...['listen_addresses=', `unix_socket_directories=${folder}`, 'max_connections=200'],
    ...(options.hasty ? HASTY : []),
  ].flatMap((setting) => ['-c', setting]);
  // The host of a path in the question goes before the one that every address must have.
  const url = `postgres://studio@localhost/postgres?host=${encodeURIComponent(folder)}`;
  const log = join(folder, 'log');
  let child: ChildProcess | null = null;
  const ended = () => child === null || child.exitCode !== null || child.signalCode !== null;
  const untilEnded = (): Promise<unknown> =>
    ended() ? Promise.resolve() : new Promise((resolve) => child!.once('exit', resolve));

  async function start(): Promise<void> {
    const until = Date.now() + 60_000;
    for (;;) {
      if (ended()) {
        const out = openSync(log, 'a');
        child = spawn(join(bin, 'postgres'), ['-D', data, ...settings], {
          ...common,
          stdio: ['ignore', out, out],
        });
      }
      const client = new pg.Client({ connectionString: url, connectionTimeoutMillis: 2000 });
      client.on('error', () => undefined);
      try {
        await client.connect();
        return await client.end();
      } catch (error) {
        // It recovers what a kill has left, or the last of the killed processes still holds its memory.
        if (Date.now() > until)
          throw new Error(`PostgreSQL does not start:\n${readFileSync(log, 'utf8').slice(-2000)}`, {
            cause: error,
          });
        await new Promise((resolve) => setTimeout(resolve, 50));
      }
    }
  }
  const children = (): number[] =>
    readFileSync(`/proc/${child!.pid}/task/${child!.pid}/children`, 'utf8')
      .split(' ')
      .filter((one) => one.trim() !== '')
      .map(Number);
  const end = (pid: number): void => {
    try {
      process.kill(pid, 'SIGKILL');
    } catch {
      // It has ended by itself.
    }
  };
  async function kill(): Promise<void> {
    if (ended()) return;
    for (const pid of [child!.pid!, ...children()]) end(pid);
    await untilEnded();
  }
  async function crash(which: number): Promise<void> {
    const some = ended() ? [] : children();
    if (some.length > 0) end(some[Math.floor(which * some.length)]!);
    await start();
  }
  const last = (): void => void child?.kill('SIGQUIT');
  process.once('exit', last);
  await start();
  return {
    url,
    pid: () => child!.pid!,
    start,
    kill,
    crash,
    async remove() {
      process.off('exit', last);
      child?.kill('SIGINT');
      await untilEnded();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** A new, empty database of a server. @returns its `DATABASE_URL` */
export async function newDatabase(server: string): Promise<string> {
  const name = `twobar_${randomBytes(6).toString('hex')}`;
  const client = new pg.Client({ connectionString: server });
  await client.connect();
  await client.query(`create database ${name}`);
  await client.end();
  const url = new URL(server);
  url.pathname = `/${name}`;
  return url.href;
}
