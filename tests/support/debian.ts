import { execFileSync } from 'node:child_process';

/** Where a program lies, by the search path; null where there is none. */
export function which(name: string): string | null {
  try {
    const tool = process.platform === 'win32' ? 'where' : 'which';
    return (
      execFileSync(tool, [name], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] }).split(
        /\r?\n/,
      )[0] || null
    );
  } catch {
    return null;
  }
}

/** True where Debian's or Ubuntu's package manager may be used. */
export function isDebianRoot(): boolean {
  return process.platform === 'linux' && process.getuid?.() === 0 && which('apt-get') !== null;
}

const quiet = { stdio: ['ignore', 'ignore', 'inherit'] as ('ignore' | 'inherit')[] };
// Another run of ours on this machine may be at it.
const wait = ['-o', 'DPkg::Lock::Timeout=300'];

const update = (): void => void execFileSync('apt-get', [...wait, 'update', '-qq'], quiet);
const add = (packages: readonly string[]): void =>
  void execFileSync('apt-get', [...wait, 'install', '-y', '-qq', '--no-install-recommends', ...packages], {
    ...quiet,
    env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
  });

/** Installs the first of these packages that there is. */
export function install(packages: readonly string[]): void {
  process.stderr.write(`Installing the distribution’s ${packages.join(' or ')} (about a minute).\n`);
  update();
  for (const name of packages)
    try {
      return add([name]);
    } catch {
      continue;
    }
}

/**
 * Installs all of these packages.
 * @throws Error where one of them is not to be had
 */
export function installAll(packages: readonly string[]): void {
  process.stderr.write(`Installing the distribution’s ${packages.join(', ')} (about a minute).\n`);
  update();
  add(packages);
}
