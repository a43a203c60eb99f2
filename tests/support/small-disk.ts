import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, statfsSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A disk of its own that can be filled to the last byte and emptied again. */
export interface SmallDisk {
  readonly path: string;
  /** Fills it and keeps it full: what its users give back is taken at once. */
  fill(): void;
  makeRoom(): void;
  remove(): void;
}

/** A small disk in memory, or null where this user may not mount one (only root on Linux may). */
export function smallDisk(megabytes: number): SmallDisk | null {
  const path = mkdtempSync(join(tmpdir(), 'twobar-disk-'));
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${megabytes}m`, 'tmpfs', path], { stdio: 'ignore' });
  } catch {
    rmSync(path, { recursive: true });
    return null;
  }
  const ballast = join(path, 'ballast');
  const block = Buffer.alloc(4096);
  let filling: NodeJS.Timeout | undefined;
  const takeAll = (): void => {
    try {
      for (const free = Buffer.alloc(2 ** 20); statfsSync(path).bfree > 256;)
        writeFileSync(ballast, free, { flag: 'a' });
      while (statfsSync(path).bfree > 0) writeFileSync(ballast, block, { flag: 'a' });
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'ENOSPC') throw error;
    }
  };
  return {
    path,
    fill() {
      takeAll();
      filling = setInterval(takeAll, 5);
    },
    makeRoom() {
      clearInterval(filling);
      rmSync(ballast, { force: true });
    },
    remove() {
      clearInterval(filling);
      execFileSync('umount', ['-l', path]);
      rmSync(path, { recursive: true });
    },
  };
}
