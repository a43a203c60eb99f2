import { chromium } from 'playwright-core';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { preview } from 'vite';
import { HEADERS } from '../../src/ui/hosting.ts';
import { BROWSER_FLAGS, browserPath } from '../support/browser.ts';
import { addSimulatedPlayer, PACE } from '../support/simulated-player.ts';
import { OUT, ROOT } from './build.ts';

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

/**
 * The built app, served under a sub-path, and a browser.
 * @param options.outDir where it lies
 * @param options.pace of its pages' clock: 1 where the machine itself is measured, or what passes is looked at
 */
export async function serveBuiltApp({ outDir = OUT, pace = PACE } = {}): Promise<ServedApp> {
  // Under a sub-path, as on any web host: nothing may ask for "/".
  const server = await preview({
    root: ROOT,
    configFile: false,
    base: '/some/where/',
    build: { outDir },
    preview: { port: 0, host: '127.0.0.1', headers: HEADERS },
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
      await addSimulatedPlayer(page, pace);
      return { page, context, problems };
    },
    async close() {
      await browser.close();
      await server.close();
    },
  };
}
