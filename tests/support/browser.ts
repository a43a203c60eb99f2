import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { install, isDebianRoot, which } from './debian.ts';

/** Chromium without a window's shell first: the same engine, a quarter less to do for each page. */
const SHELL = 'chromium-headless-shell';
const BROWSERS = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'microsoft-edge'];
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
  // Two cores under several pages: V8's helpers take more of them than they save.
  '--js-flags=--single-threaded',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--autoplay-policy=no-user-gesture-required',
  '--use-fake-ui-for-media-stream',
];

function find(names: readonly string[]): string | null {
  const asked = process.env['TWOBAR_BROWSER'];
  if (asked) {
    if (existsSync(asked)) return asked;
    throw new Error(
      `TWOBAR_BROWSER names ${asked}, which does not exist. Point it at a Chromium, Chrome or Edge.`,
    );
  }
  for (const name of names) {
    const path = which(name);
    if (path) return path;
  }
  return PLACES.find((path) => existsSync(path)) ?? null;
}

/** Playwright's own download. */
function download(): string | null {
  process.stderr.write('No Chromium found: fetching one with Playwright.\n');
  execFileSync(process.execPath, ['node_modules/playwright-core/cli.js', 'install', 'chromium'], {
    stdio: 'inherit',
  });
  const script = "import {chromium} from 'playwright-core'; console.log(chromium.executablePath())";
  const listed = execFileSync(process.execPath, ['--input-type=module', '-e', script], {
    encoding: 'utf8',
  }).trim();
  return existsSync(listed) ? listed : null;
}

const NONE =
  'The browser tests need Chromium, Chrome or Edge: install one (Debian/Ubuntu: apt-get install chromium) or set TWOBAR_BROWSER to its path.';

function bring(names: readonly string[], packages: readonly string[]): string {
  const there = find(names);
  if (there) return there;
  let brought: string | null = null;
  try {
    if (isDebianRoot()) {
      // Ubuntu has no package of the shell.
      install(packages);
      brought = find(names);
    } else brought = download();
  } catch {
    brought = null;
  }
  if (!brought) throw new Error(NONE);
  return brought;
}

/**
 * A CI machine may have been left with a whole browser alone, which takes twice as long for each page: the shell is brought
 * there too. Asked once; the workers inherit the answer.
 */
function bringShellForCi(): void {
  const { env } = process;
  if (!env['CI'] || env['TWOBAR_BROWSER'] || env['TWOBAR_SHELL_ASKED'] || !isDebianRoot() || which(SHELL))
    return;
  env['TWOBAR_SHELL_ASKED'] = '1';
  try {
    install([SHELL]);
  } catch {
    // Ubuntu has no such package: a whole browser does.
  }
}

let shell: string | null = null;
let whole: string | null = null;

/**
 * The path of a Chromium, Chrome or Edge, of the shell without a window where there is one; where there is none, one is
 * brought: the distribution's package on Debian/Ubuntu as root, elsewhere Playwright's own download.
 * @throws Error with one sentence saying what to install when that fails.
 */
export function browserPath(): string {
  if (shell === null) bringShellForCi();
  return (shell ??= bring([SHELL, ...BROWSERS], [SHELL, 'chromium']));
}

/** The same of a whole browser: the shell knows neither profiles nor what a user allowed a site. */
export const wholeBrowserPath = (): string => (whole ??= bring(BROWSERS, ['chromium']));
