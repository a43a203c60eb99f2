import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { LONG, lookAt, LYING, PHONE } from './look.ts';
import { heading, remember } from './pages.ts';

describe('all screens of the built app', () => {
  let app: ServedApp;
  beforeAll(async () => {
    app = await serveBuiltApp({ pace: 1 });
  }, 180_000);
  afterAll(() => app.close());

  it(
    `print no text over another and cut none off in any language, and give axe nothing to find, at ${LYING.width} × ${LYING.height}`,
    { timeout: LONG },
    () => lookAt(app, LYING),
  );

  it('have the menu in one row on a tablet, and folded on a phone in 60 px at most', async () => {
    for (const [viewport, most] of [
      [{ width: 768, height: 1024 }, 72],
      [PHONE, 61],
    ] as const) {
      const { page, context } = await app.page({ viewport });
      await remember(page, {});
      await page.goto(app.url);
      await heading(page, 'What would you like');
      const header = page.locator('header');
      expect((await header.boundingBox())!.height).toBeLessThanOrEqual(most);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(
        viewport.width,
      );
      // All pages are reached by it, by keys too.
      await header.locator('.more').press('Enter');
      for (const name of [
        'Test',
        'Practice',
        'Sight reading',
        'Chords',
        'Scales',
        'Improvising',
        'Settings',
        'Progress',
        'Teacher',
        'My phrases',
        'Data',
        'Sound check',
        'About',
      ])
        expect(await header.getByRole('link', { name, exact: true }).isVisible(), name).toBe(true);
      await page.keyboard.press('Escape');
      expect(await header.getByRole('link', { name: 'About' }).isVisible()).toBe(false);
      await context.close();
    }
  });
});
