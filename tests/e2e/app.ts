import { chromium } from 'playwright-core';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { preview } from 'vite';
import { onTestFinished, TestRunner } from 'vitest';
import { HEADERS } from '../../src/ui/hosting.ts';
import { BROWSER_FLAGS, browserPath } from '../support/browser.ts';
import { addSimulatedPlayer, PACE } from '../support/simulated-player.ts';
import { OUT, ROOT } from './build.ts';
import { PATIENCE } from './patience.ts';

/** The built app, served, and a browser. */
export interface ServedApp {
  readonly url: string;
  readonly browser: Browser;
  /**
   * A fresh page with a simulated player as its microphone; `problems` collects what went wrong in it. What other pages are
   * made of is fetched while it rests only where a test says so: for the others that is a third of all there is to do.
   */
  page(
    options?: Parameters<Browser['newContext']>[0] & { readonly fetchesAhead?: boolean },
  ): Promise<{ page: Page; context: BrowserContext; problems: string[] }>;
  /** The server goes, the pages stay. */
  offline(): Promise<void>;
  close(): Promise<void>;
}

const chromiumWithout = (): Promise<Browser> =>
  chromium.launch({ executablePath: browserPath(), args: BROWSER_FLAGS, headless: true });

/** The built app alone, served under a sub-path, as on any web host: nothing may ask for "/". */
export async function serveFiles(outDir = OUT): Promise<{ url: string; close(): Promise<void> }> {
  const server = await preview({
    root: ROOT,
    configFile: false,
    base: '/some/where/',
    build: { outDir },
    preview: { port: 0, host: '127.0.0.1', headers: HEADERS },
    logLevel: 'error',
  });
  return { url: server.resolvedUrls!.local[0]!, close: () => server.close() };
}

/**
 * The built app, served, and a browser.
 * @param options.outDir where it lies
 * @param options.pace of its pages' clock: 1 where the machine itself is measured, or what passes is looked at
 * @param options.launch the browser, when it is not Chromium
 * @param options.player what is put at the microphone of each page, when it is not the simulated player
 */
export async function serveBuiltApp({
  outDir = OUT,
  pace = PACE,
  launch = chromiumWithout,
  player = (page: Page): Promise<void> => addSimulatedPlayer(page, pace),
} = {}): Promise<ServedApp> {
  const { url, close } = await serveFiles(outDir);
  const browser = await launch();
  return {
    url,
    browser,
    async page({ fetchesAhead = false, ...options } = {}) {
      const context = await browser.newContext({
        viewport: { width: 1280, height: 800 },
        // Who wants the app without a network says so: for the others it would fetch all of its files for each page.
        serviceWorkers: 'block',
        ...options,
      });
      context.setDefaultTimeout(PATIENCE.timeout);
      // A page left open goes on sounding, and what is tried after it has the less of the machine.
      if (TestRunner.getCurrentTest()) onTestFinished(() => context.close());
      const page = await context.newPage();
      if (!fetchesAhead) await page.addInitScript(() => (window.requestIdleCallback = () => 0));
      const problems: string[] = [];
      // Not those of the empty page before the app: what is put into every page may not store anything there.
      const told = (problem: string): unknown => page.url() !== 'about:blank' && problems.push(problem);
      page.on('pageerror', (error) => told(error.message));
      page.on('console', (message) => message.type() === 'error' && told(message.text()));
      await player(page);
      return { page, context, problems };
    },
    offline: close,
    async close() {
      await browser.close();
      await close();
    },
  };
}
