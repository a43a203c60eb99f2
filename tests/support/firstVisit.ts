import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';

/**
 * Lets only those scripts and styles of the built app through that its `index.html` names: what is asked for after them lies
 * behind the first page, and comes sooner or later as the machine is quick or slow.
 */
export async function onlyNamedByIndex(page: Page, outDir: string): Promise<void> {
  const named = readFileSync(join(outDir, 'index.html'), 'utf8');
  await page.route(/assets\/[^/]*\.(js|css)$/, (route) =>
    named.includes(route.request().url().split('/').at(-1)!)
      ? route.continue()
      : route.abort('internetdisconnected'),
  );
}
