import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { violationsIn } from './axe.ts';
import { PATIENCE, heading, remember, sounding, step } from './pages.ts';

let app: ServedApp;
beforeAll(async () => (app = await serveBuiltApp()));
afterAll(() => app.close());

const PHONE = { viewport: { width: 390, height: 844 } };
describe('the language', () => {
  it('is chosen in the settings, changes everything at once, and is remembered', async () => {
    const { page, context, problems } = await app.page(PHONE);
    await remember(page, {});
    await page.goto(`${app.url}#/settings`);
    await heading(page, 'Settings');
    expect(await violationsIn(page, 'settings')).toEqual([]);
    // `remember` writes before every load: what is chosen is read from the disk here.
    await page.getByLabel('Deutsch').check();
    await heading(page, 'Einstellungen');
    expect(await page.evaluate(() => document.documentElement.lang)).toBe('de');
    await page.locator('nav a', { hasText: 'Üben' }).waitFor({ ...PATIENCE, state: 'attached' });
    const kept = await page.evaluate(
      () => JSON.parse(localStorage.getItem('twobar.settings')!) as { language: string },
    );
    expect(kept.language).toBe('de');
    await page.getByLabel('Español').check();
    await heading(page, 'Ajustes');
    expect(await violationsIn(page, 'settings')).toEqual([]);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('names notes as it does: the strings of a guitar in German and in fixed do', async () => {
    const { page, context } = await app.page();
    await remember(page, { language: 'de' });
    await page.goto(`${app.url}#/check`);
    await page.getByRole('button', { name: 'Verstanden' }).click();
    await page
      .locator('option', { hasText: 'E A D G H E' })
      .first()
      .waitFor({ ...PATIENCE, state: 'attached' });
    await context.close();
    const other = await app.page();
    await remember(other.page, { language: 'es' });
    await other.page.goto(`${app.url}#/check`);
    await other.page.getByRole('button', { name: 'Entendido' }).click();
    await other.page
      .locator('option', { hasText: 'Mi La Re Sol Si Mi' })
      .first()
      .waitFor({ ...PATIENCE, state: 'attached' });
    await other.context.close();
  });
});

it('a drill begins two presses from the practice page, on a phone, and is remembered', async () => {
  const { page, context, problems } = await app.page(PHONE);
  await remember(page, {});
  await page.goto(`${app.url}#/practice`);
  await heading(page, 'Practice');
  await page.getByLabel('Call and response').check();
  await page.getByRole('button', { name: 'Begin the drill' }).click();
  await sounding(page);
  await step(page, 'Listen');
  const kept = await page.evaluate(
    () => JSON.parse(localStorage.getItem('twobar.settings')!) as { drill: { what: string } },
  );
  expect(kept.drill.what).toBe('answer');
  expect(problems).toEqual([]);
  await context.close();
});
