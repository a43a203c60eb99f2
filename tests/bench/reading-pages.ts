/**
 * Pages to read as pictures to look at, forty a level, every other one for bass: `npm run contact-sheets:reading
 * [-- FOLDER [LEVEL …]]`; default `.cache/reading-pages`, all levels.
 */
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { chromium } from 'playwright-core';
import { build, preview } from 'vite';
import { BROWSER_FLAGS, browserPath } from '../support/browser.ts';
import { ROOT } from '../e2e/build.ts';

const PAGES = 40;
/** As many as can be read on one picture without making it smaller. */
const PER_PICTURE = 4;

const [folder = '.cache/reading-pages', ...wanted] = process.argv.slice(2);
const out = resolve(ROOT, folder);
mkdirSync(out, { recursive: true });
const levels = wanted.length > 0 ? wanted.map(Number) : Array.from({ length: 10 }, (_, i) => i + 1);

const outDir = mkdtempSync(join(tmpdir(), 'twobar-reading-pages-'));
const root = join(import.meta.dirname, 'reading-pages');
const common = { configFile: false, root, base: './', logLevel: 'error' } as const;
await build({ ...common, plugins: [svelte()], build: { outDir, target: 'es2022' } });
const server = await preview({ ...common, build: { outDir }, preview: { port: 0, host: '127.0.0.1' } });
const browser = await chromium.launch({
  executablePath: browserPath(),
  args: BROWSER_FLAGS,
  headless: true,
});
try {
  const page = await browser.newPage({ viewport: { width: 1560, height: 900 } });
  for (const level of levels)
    for (let from = 0; from < PAGES; from += PER_PICTURE) {
      const instrument = (from / PER_PICTURE) % 2 ? 'bass' : 'guitar';
      const query = new URLSearchParams({
        ...{
          level: String(level),
          from: String(from),
          count: String(PER_PICTURE),
          instrument,
          shows: 'both',
        },
      });
      await page.goto(`${server.resolvedUrls!.local[0]!}?${query}`);
      await page.locator('body.drawn').waitFor();
      const path = join(out, `level-${level}-${from / PER_PICTURE + 1}.png`);
      await page.screenshot({ path, fullPage: true });
      console.log(path);
    }
} finally {
  await browser.close();
  await server.close();
  rmSync(outDir, { recursive: true, force: true });
}
