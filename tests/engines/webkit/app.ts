import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { By, Key, type WebDriver } from 'selenium-webdriver';
import type { Settings } from '../../../src/ui/settings/types.ts';
import { serveFiles } from '../../e2e/app.ts';
import { OUT } from '../../e2e/build.ts';
import { PATIENCE } from '../../e2e/patience.ts';
import { webkit } from '../../support/engines.ts';
import { startSoundServer, type SoundServer } from '../../support/sound-server.ts';
import { loopPlayerScript } from '../loop-player.ts';
import { openWebKit } from './session.ts';

const found = webkit();
export const hasWebKit = found !== null;

/** The built app in WebKitGTK. */
export interface WebKitApp {
  readonly url: string;
  readonly driver: WebDriver;
  readonly server: SoundServer;
  /** What the helpers of the other browsers ask of a page: to run a function in it, and to wait. */
  readonly page: Page;
  /** Goes to an address of the app, as a link in it does. */
  open(hash: string): Promise<void>;
  /** Remembers settings as the app does, for the next `open`. */
  remember(settings: Partial<Settings>): Promise<void>;
  /** Until the selector is there, seen. */
  there(css: string): Promise<void>;
  /** Until a text stands within what the selector names. */
  says(text: string | RegExp, css?: string): Promise<void>;
  press(key: 'PageDown' | 'PageUp'): Promise<void>;
  /** Presses the button, link or summary of this name. */
  click(name: string): Promise<void>;
  /** Errors, rejections, breaches of the policy and files that did not come, in every page so far. */
  problems(): Promise<string[]>;
  /** The web server goes, the page stays. */
  offline(): Promise<void>;
  close(): Promise<void>;
}

/**
 * Runs in the page before the app. WebDriver tells nothing of a page's console: what goes wrong is written down here. What
 * the page saves is kept, as this browser has nowhere to put it.
 */
function watch(): void {
  const KEPT = 'twobar-test.problems';
  const tell = (problem: string): void => {
    const before = JSON.parse(sessionStorage.getItem(KEPT) ?? '[]') as string[];
    sessionStorage.setItem(KEPT, JSON.stringify([...before, `${location.hash}: ${problem}`]));
  };
  addEventListener(
    'error',
    (event) => {
      // What a ResizeObserver has no time for in one frame comes in the next: CSS says so, and WebKit calls it an error.
      const of = event.target;
      if (of instanceof Element) tell(`did not load: ${of.outerHTML.slice(0, 200)}`);
      else if (!event.message.startsWith('ResizeObserver loop completed')) tell(event.message);
    },
    true,
  );
  addEventListener('unhandledrejection', ({ reason }) => tell(`rejected: ${String(reason)}`));
  document.addEventListener('securitypolicyviolation', ({ effectiveDirective, blockedURI }) =>
    tell(`policy: ${effectiveDirective} ${blockedURI}`),
  );
  const { error } = console;
  // eslint-disable-next-line no-console -- what the app says there is what is looked for
  console.error = (...all: unknown[]) => {
    tell(`console: ${all.map(String).join(' ')}`);
    error(...all);
  };
  const { createObjectURL } = URL;
  URL.createObjectURL = (saved: Blob) => {
    Object.assign(window, { __saved: saved });
    return createObjectURL(saved);
  };
}

const script = (gainDb: number): string => `${loopPlayerScript(gainDb)}\n(${watch.toString()})();\n`;

/** The built app with one script more, before its own. */
function withScript(gainDb: number): string {
  const folder = mkdtempSync(join(tmpdir(), 'twobar-webkit-'));
  cpSync(OUT, folder, { recursive: true });
  const page = join(folder, 'index.html');
  writeFileSync(join(folder, 'test-watch.js'), script(gainDb));
  const html = readFileSync(page, 'utf8');
  const first = '<script src="./test-watch.js"></script>';
  writeFileSync(page, html.replace('<meta name="color-scheme"', `${first}<meta name="color-scheme"`));
  return folder;
}

/** @param gainDb how loud the app itself leaves the loudspeaker, see {@link loopPlayerScript} */
export async function serveInWebKit(gainDb: number): Promise<WebKitApp> {
  const folder = withScript(gainDb);
  const files = await serveFiles(folder);
  const server = await startSoundServer();
  const session = await openWebKit(found!, server.env);
  const { driver } = session;
  const run = <T>(body: (...args: never[]) => T, ...args: unknown[]): Promise<Awaited<T>> =>
    driver.executeScript(
      `globalThis.__name ??= (value) => value; return (${body.toString()})(...arguments)`,
      ...args,
    );
  const until = async (what: string, such: () => Promise<boolean>): Promise<void> => {
    for (const end = Date.now() + PATIENCE.timeout; !(await such().catch(() => false));) {
      if (Date.now() > end)
        throw new Error(
          `never came: ${what}; the page says: ${await run(() => document.body.innerText.slice(0, 600))}`,
        );
      await new Promise((done) => setTimeout(done, 50));
    }
  };
  const page = {
    evaluate: run,
    waitForTimeout: (ms: number) => new Promise((done) => setTimeout(done, ms)),
    waitForFunction: (body: () => boolean, argument: unknown) =>
      until(body.toString(), async () => Boolean(await run(body as () => boolean, argument))),
  } as unknown as Page;
  return {
    ...{ url: files.url, driver, server, page },
    async open(hash) {
      const here = await driver.getCurrentUrl();
      if (here.split('#')[0] === files.url) await run((to: string) => void (location.hash = to), hash);
      else await driver.get(`${files.url}${hash}`);
    },
    async remember(settings) {
      await driver.get(`${files.url}icon.svg`);
      await run(
        (kept: string) => localStorage.setItem('twobar.settings', kept),
        JSON.stringify({ checked: true, ...settings }),
      );
    },
    there: (css) =>
      until(css, () => run((at: string) => Boolean(document.querySelector(at)?.checkVisibility()), css)),
    says: (text, css = 'body') =>
      until(`${text}`, async () => {
        const all = await run(
          (at: string) =>
            [...document.querySelectorAll<HTMLElement>(at)].map((one) => one.innerText).join('\n'),
          css,
        );
        return typeof text === 'string' ? all.includes(text) : text.test(all);
      }),
    press: (key) =>
      driver
        .actions()
        .sendKeys(key === 'PageDown' ? Key.PAGE_DOWN : Key.PAGE_UP)
        .perform(),
    async click(name) {
      const path = By.xpath(
        `//*[self::button or self::a or self::summary][normalize-space()='${name}' or @aria-label='${name}']`,
      );
      await until(name, async () => {
        const [one] = await driver.findElements(path);
        await one!.click();
        return true;
      });
    },
    problems: () => run(() => JSON.parse(sessionStorage.getItem('twobar-test.problems') ?? '[]') as string[]),
    offline: files.close,
    async close() {
      await session.close();
      server.close();
      await files.close().catch(() => undefined);
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
