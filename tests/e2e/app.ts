import { execFile } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { promisify } from 'node:util';
import { chromium } from 'playwright-core';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { preview } from 'vite';
import { BROWSER_FLAGS, browserPath } from '../support/browser.ts';
import { addSimulatedPlayer } from '../support/simulated-player.ts';

const ROOT = resolve(import.meta.dirname, '../..');
/** Where the app is built to; another place where several work in one tree at a time. */
const OUT = resolve(ROOT, process.env['TWOBAR_E2E_OUT'] ?? '.cache/e2e');

/** The built app, served, and a browser. */
export interface ServedApp {
  readonly url: string;
  readonly browser: Browser;
  /** A fresh page with a simulated player as its microphone; `problems` collects what went wrong in it. */
  page(
    options?: Parameters<Browser['newContext']>[0],
  ): Promise<{ page: Page; context: BrowserContext; problems: string[] }>;
  close(): Promise<void>;
}

/** Newest change below a folder, ms. */
function newestMs(folder: string): number {
  return Math.max(
    0,
    ...readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => statSync(join(entry.parentPath, entry.name)).mtimeMs),
  );
}

/** Builds the app as `npm run build` does, unless nothing has changed since the last build here. */
async function build(): Promise<void> {
  const changed = Math.max(newestMs(join(ROOT, 'src')), statSync(join(ROOT, 'vite.config.ts')).mtimeMs);
  const built = join(OUT, 'index.html');
  if (existsSync(built) && statSync(built).mtimeMs > changed) return;
  const env: NodeJS.ProcessEnv = { ...process.env, NODE_ENV: 'production' };
  delete env['VITEST'];
  await promisify(execFile)(
    process.execPath,
    ['node_modules/vite/bin/vite.js', 'build', '--outDir', OUT, '--logLevel', 'error'],
    { cwd: ROOT, env },
  );
}

/** The built app, served under a sub-path, and a browser. */
export async function serveBuiltApp(): Promise<ServedApp> {
  await build();
  // Under a sub-path, as on any web host: nothing may ask for "/".
  const server = await preview({
    root: ROOT,
    configFile: false,
    base: '/some/where/',
    build: { outDir: OUT },
    preview: { port: 0, host: '127.0.0.1' },
    logLevel: 'error',
  });
  const url = server.resolvedUrls!.local[0]!;
  const browser = await chromium.launch({
    executablePath: browserPath(),
    args: BROWSER_FLAGS,
    headless: true,
  });
  return {
    url,
    browser,
    async page(options = {}) {
      const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, ...options });
      const page = await context.newPage();
      const problems: string[] = [];
      page.on('pageerror', (error) => problems.push(error.message));
      page.on('console', (message) => message.type() === 'error' && problems.push(message.text()));
      await addSimulatedPlayer(page);
      return { page, context, problems };
    },
    async close() {
      await browser.close();
      await server.close();
    },
  };
}
