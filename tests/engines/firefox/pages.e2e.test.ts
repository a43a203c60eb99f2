import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { badTexts } from '../../tour/overlaps.ts';
import { PARTS, tour, type Part } from '../../tour/tour.ts';
import { hasFirefox, serveInFirefox, type FirefoxApp } from './firefox.ts';

/** A tablet lying: the narrowest at which the desk is a table. */
const SIZE = { width: 1024, height: 768 };

describe.skipIf(!hasFirefox)('every page in Firefox', () => {
  let app: FirefoxApp;
  beforeAll(async () => {
    app = await serveInFirefox();
  });
  afterAll(() => app?.close());

  it.each(Object.keys(PARTS) as Part[])(
    'is drawn without an error or a breach of the policy, no text over another and none cut off: %s',
    async (part) => {
      const problems: string[][] = [];
      const page: FirefoxApp['page'] = async (options) => {
        const opened = await app.page(options);
        problems.push(opened.problems);
        return opened;
      };
      const found: string[] = [];
      for await (const { name, page: at } of tour({ ...app, page }, { viewport: SIZE, parts: [part] })) {
        found.push(...(await badTexts(at)).map((text) => `${name}: ${text}`));
        const over = await at.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        if (over > 0) found.push(`${name}: ${over} px wider than the window`);
        // A table may scroll sideways, never up and down.
        const higher = await at.evaluate(() =>
          [...document.querySelectorAll('main .scroll')].some((box) => box.scrollHeight > box.clientHeight),
        );
        if (higher) found.push(`${name}: a table is higher than its box`);
      }
      expect([...found, ...problems.flat()]).toEqual([]);
      expect(problems.length).toBeGreaterThan(0);
    },
  );
});
