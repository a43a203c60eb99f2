import { randomBytes } from 'node:crypto';
import { rmSync } from 'node:fs';
import { open, realpath, rename, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { because } from './because.ts';
import { UsageError } from './io.ts';

/** Files that are being written and are not yet what they are to be. */
const begun = new Set<string>();
const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;

/** The program is being ended: what was only begun goes with it. */
function leaveNothing(signal: NodeJS.Signals): void {
  for (const path of begun) rmSync(path, { force: true });
  for (const one of SIGNALS) process.off(one, leaveNothing);
  process.kill(process.pid, signal);
}
/** Only meanwhile: at any other time a signal ends the program at once, also in the middle of hearing. */
export function begin(path: string): void {
  if (begun.size === 0) for (const signal of SIGNALS) process.on(signal, leaveNothing);
  begun.add(path);
}
export function done(path: string): void {
  begun.delete(path);
  if (begun.size === 0) for (const signal of SIGNALS) process.off(signal, leaveNothing);
}

const statOf = async (path: string) => {
  try {
    return await stat(path);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw error;
  }
};

/**
 * Writes a file: beside its place first, then, whole and on the disk, into it. A disk that is full, a fault or Ctrl-C
 * leave the older file as it was. What is no file (a pipe, a terminal) is written to as it is.
 *
 * @param inputs paths that the caller reads; none of them is ever written over
 * @throws UsageError, one sentence
 */
export async function writeBytes(
  path: string,
  bytes: Uint8Array,
  inputs: readonly string[] = [],
): Promise<void> {
  let beside: string | null = null;
  try {
    const old = await statOf(path);
    for (const input of inputs) {
      const given = old && (await statOf(input));
      if (given && given.dev === old.dev && given.ino === old.ino)
        throw new UsageError(`${path}: it is read by this very command; write to another file`);
    }
    if (old?.isDirectory()) throw Object.assign(new Error(), { code: 'EISDIR' });
    const place = old ? await realpath(path) : path;
    if (!old || old.isFile())
      begin((beside = join(dirname(place), `.twobar-${randomBytes(6).toString('hex')}`)));
    const file = await open(beside ?? place, beside ? 'wx' : 'w', old ? old.mode & 0o777 : 0o666);
    try {
      await file.writeFile(bytes);
      if (beside) await file.sync();
    } finally {
      await file.close();
    }
    if (beside) await rename(beside, place);
  } catch (error) {
    if (beside) rmSync(beside, { force: true });
    throw error instanceof UsageError ? error : because('writing', path, error);
  } finally {
    if (beside) done(beside);
  }
}
