import { spawn } from 'node:child_process';
import { createServer } from 'node:net';
import type { AddressInfo } from 'node:net';

/** The real server as a process of its own, listening on this machine. */
export interface ServerProcess {
  readonly url: string;
  readonly pid: number;
  /** What stands behind `#` of the link to the first machine; null once a machine has joined. */
  readonly link: string | null;
  readonly alive: () => boolean;
  /** What it has written to its error output so far. */
  readonly complaints: () => string;
  readonly kill: (signal?: NodeJS.Signals) => void;
  /** With what it ended. */
  readonly ended: Promise<number | NodeJS.Signals>;
}

/** Where a studio lies: PGlite's folder or a `DATABASE_URL`. */
export type Place = { readonly folder: string } | { readonly database: string };

/** @param settings further ones of its environment @throws Error where it ends before it listens */
export async function serverProcess(
  place: Place,
  port: number,
  settings: Readonly<Record<string, string>> = {},
): Promise<ServerProcess> {
  const env: NodeJS.ProcessEnv = { ...process.env };
  delete env['DATABASE_URL'];
  const where = 'folder' in place ? { STUDIO_FOLDER: place.folder } : { DATABASE_URL: place.database };
  const child = spawn(process.execPath, ['--import', 'tsx', 'studio/main.ts'], {
    env: { ...env, ...where, ...settings, PORT: String(port) },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let [said, complained] = ['', ''];
  child.stderr.on('data', (data: Buffer) => (complained += data.toString()));
  const ended = new Promise<number | NodeJS.Signals>((resolve) =>
    child.once('exit', (code, signal) => resolve(signal ?? code!)),
  );
  const last = (): void => void child.kill('SIGKILL');
  process.once('exit', last);
  void ended.then(() => process.off('exit', last));
  await new Promise<void>((resolve, reject) => {
    child.stdout.on('data', (data: Buffer) => {
      said += data.toString();
      // All that it ever says comes with the address, or at once after it.
      if (/first\/\S+\n/.test(said)) resolve();
      else if (said.includes('Twobar and its studio')) setTimeout(resolve, 200);
    });
    void ended.then((how) => reject(new Error(`the server ended with ${how}: ${said}${complained}`)));
  });
  return {
    url: `http://127.0.0.1:${port}`,
    pid: child.pid!,
    link: /first\/(\S+)/.exec(said)?.[1] ?? null,
    alive: () => child.exitCode === null && child.signalCode === null,
    complaints: () => complained,
    kill: (signal = 'SIGKILL') => void child.kill(signal),
    ended,
  };
}

export const freePort = (): Promise<number> =>
  new Promise((resolve) => {
    const probe = createServer().listen(0, '127.0.0.1', () => {
      const { port } = probe.address() as AddressInfo;
      probe.close(() => resolve(port));
    });
  });
