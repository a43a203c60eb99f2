import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';

const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'microsoft-edge'];
const PLACES = [
  '/usr/bin/chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
];

/** Flags that a headless Chromium needs on a machine without sound card, display or network. */
export const BROWSER_FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--autoplay-policy=no-user-gesture-required',
  '--use-fake-ui-for-media-stream',
];

function which(name: string): string | null {
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

function find(): string | null {
  const asked = process.env['TWOBAR_BROWSER'];
  if (asked) {
    if (existsSync(asked)) return asked;
    throw new Error(
      `TWOBAR_BROWSER names ${asked}, which does not exist. Point it at a Chromium, Chrome or Edge.`,
    );
  }
  for (const name of NAMES) {
    const path = which(name);
    if (path) return path;
  }
  return PLACES.find((path) => existsSync(path)) ?? null;
}

/** True where Debian's or Ubuntu's package manager may be used. */
function isDebianRoot(): boolean {
  return process.platform === 'linux' && process.getuid?.() === 0 && which('apt-get') !== null;
}

let found: string | null = null;

/**
 * The path of a Chromium, Chrome or Edge; where there is none, one is brought: the distribution's
 * package on Debian/Ubuntu as root, elsewhere Playwright's own download.
 * @throws Error with one sentence saying what to install when that fails.
 */
export function browserPath(): string {
  found ??= find();
  if (found) return found;
  try {
    if (isDebianRoot()) {
      process.stderr.write('No Chromium found: installing the distribution’s package (about a minute).\n');
      const quiet = { stdio: ['ignore', 'ignore', 'inherit'] as ('ignore' | 'inherit')[] };
      execFileSync('apt-get', ['update', '-qq'], quiet);
      execFileSync('apt-get', ['install', '-y', '-qq', '--no-install-recommends', 'chromium'], {
        ...quiet,
        env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
      });
      found = find();
    } else {
      process.stderr.write('No Chromium found: fetching one with Playwright.\n');
      execFileSync(process.execPath, ['node_modules/playwright-core/cli.js', 'install', 'chromium'], {
        stdio: 'inherit',
      });
      const listed = execFileSync(
        process.execPath,
        [
          '--input-type=module',
          '-e',
          "import {chromium} from 'playwright-core'; console.log(chromium.executablePath())",
        ],
        { encoding: 'utf8' },
      ).trim();
      found = existsSync(listed) ? listed : null;
    }
  } catch {
    found = null;
  }
  if (!found)
    throw new Error(
      'The browser tests need Chromium, Chrome or Edge: install one (Debian/Ubuntu: apt-get install chromium) or set TWOBAR_BROWSER to its path.',
    );
  return found;
}
