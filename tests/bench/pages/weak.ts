import { chmodSync, mkdirSync, mkdtempSync, rmdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A program that runs another in a share of the machine, workers and threads of sound among it. */
export interface Weak {
  /** What is run in the place of the program. */
  readonly path: string;
  remove(): void;
}

/** Short enough for the rest of a period not to be a pause that is heard. */
const PERIOD_US = 10_000;

/**
 * All of a program on two cores of which each is `factor` times as slow, by Linux's control groups: DevTools slow down a
 * page's own thread alone. null where this process may make no group.
 */
export function weakened(program: string, factor: number): Weak | null {
  const group = `/sys/fs/cgroup/cpu/twobar-${process.pid}-${factor}`;
  try {
    mkdirSync(group);
    writeFileSync(join(group, 'cpu.cfs_period_us'), `${PERIOD_US}`);
    writeFileSync(join(group, 'cpu.cfs_quota_us'), `${Math.round((2 * PERIOD_US) / factor)}`);
  } catch {
    return null;
  }
  const folder = mkdtempSync(join(tmpdir(), 'twobar-weak-'));
  const path = join(folder, 'weak');
  writeFileSync(path, `#!/bin/sh\necho $$ > ${group}/cgroup.procs\nexec ${program} "$@"\n`);
  chmodSync(path, 0o755);
  return {
    path,
    remove: () => {
      rmSync(folder, { recursive: true, force: true });
      try {
        rmdirSync(group);
      } catch {
        // A process of it is still ending; an empty group does no harm.
      }
    },
  };
}
