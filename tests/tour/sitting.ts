import type { Page } from 'playwright-core';
import type { SittingSetup } from '../../src/music/sitting.ts';
import { homeworkFragment } from '../../src/store/index.ts';
import { defaultSetup, standardTuning, startSitting } from '../../src/tests-engine/index.ts';
import type { ServedApp } from '../e2e/app.ts';
import { PATIENCE } from '../e2e/pages.ts';
import { keepSetting } from '../e2e/sittings.ts';
import { HOUSE_STUDENT, restoreHouse } from './house.ts';
import type { Stop } from './tour.ts';

/** Every station's page of a sitting, as it stands before it is begun, and what is shown in the middle of some. */
const NAMES = ['Blue in the morning', 'Third train', 'A slow one'];
const SETUP: SittingSetup = defaultSetup({
  ...{ level: 4, instrument: 'guitar', tuning: standardTuning('guitar').strings },
  ...{ id: 'c'.repeat(32), name: 'Before the summer' },
  pieces: NAMES.map((title, i) => ({ trackId: String(i).padStart(32, '0'), title })),
});

const onward = (page: Page): Promise<void> => page.keyboard.press('PageDown');
/** The quiet line of a station's page, with the words of what comes. */
const station = (page: Page): Promise<void> => page.locator('main .station h1').waitFor(PATIENCE);
/** Leaves out what waits, until another heading stands there. */
async function past(page: Page): Promise<void> {
  const heading = page.locator('main .station h1');
  const before = await heading.innerText();
  await page.locator('main .quiet button:not([aria-pressed])').first().click(PATIENCE);
  await page.waitForFunction(
    (old) => (document.querySelector('main .station h1') as HTMLElement | null)?.innerText !== old,
    before,
    PATIENCE,
  );
}

/** The microphone's plug is pulled, until the station's page says so. */
async function brokenOff(page: Page): Promise<void> {
  await page.evaluate(() => window.__twobarPlayer!.unplug());
  await page.locator('main .fault').waitFor(PATIENCE);
}

export async function* sitting(page: Page, app: ServedApp): AsyncGenerator<Stop> {
  await restoreHouse(page, app);
  await keepSetting(page, 'sittingSetups', [{ id: SETUP.id, name: SETUP.name, value: SETUP }]);
  // Homework of one sitting: the form at the desk, and the page of whoever gets it.
  await page.goto(`${app.url}#/teacher/${HOUSE_STUDENT}`);
  await page.reload();
  const form = page.locator('main details', { has: page.locator('.make') });
  await form.locator('summary').click(PATIENCE);
  const which = form.locator('select').last();
  await which
    .locator('option')
    .nth(1)
    .waitFor({ ...PATIENCE, state: 'attached' });
  await which.selectOption(SETUP.id);
  yield { name: '70 homework with a sitting, the form', page };
  const id = 'a'.repeat(32);
  const fragment = await homeworkFragment(
    {
      ...{ id, studentId: 'b'.repeat(32), createdAtMs: 1, manner: 'strict' as const },
      ...{
        tests: [],
        dueOn: '2026-12-04',
        text: 'All of it once, before Friday.',
        sitting: { ...SETUP, id },
      },
    },
    { there: 85, close: 65 },
  );
  await page.goto(`${app.url}#homework=${fragment}`);
  await page.locator('main li button').first().waitFor(PATIENCE);
  yield { name: '71 homework with a sitting', page };

  const run = startSitting(SETUP, { id: 'e'.repeat(32), seed: 20261129, atMs: Date.now() });
  await keepSetting(page, 'sitting', { studentId: HOUSE_STUDENT, run });
  await page.goto(`${app.url}#/sitting/now`);
  await page.reload();
  await station(page);
  yield { name: '72 sitting, sound check', page };
  await onward(page);
  await page.locator('main [role="meter"], main .level').first().waitFor(PATIENCE);
  yield { name: '73 sitting, level', page };
  await onward(page);
  await page.locator('main .station ul button').nth(2).waitFor(PATIENCE);
  await page.keyboard.press('PageUp');
  yield { name: '74 sitting, choice of piece', page };
  await past(page);
  yield { name: '75 sitting, scales', page };
  await onward(page);
  await page.locator('[role="timer"]').waitFor(PATIENCE);
  yield { name: '76 sitting, a scale under way', page, brief: true };
  await brokenOff(page);
  yield { name: '77 sitting, broken off', page };
  await past(page);
  yield { name: '78 sitting, chords', page };
  await past(page);
  yield { name: '79 sitting, reading or improvising', page };
  await page.keyboard.press('ArrowLeft');
  await page
    .locator('main .quiet button')
    .nth(2)
    .waitFor({ ...PATIENCE, state: 'detached' });
  yield { name: '80 sitting, break', page };
  await onward(page);
  await page.locator('main .station ul button').first().waitFor(PATIENCE);
  await onward(page);
  await page.locator('.stage .engraved svg').first().waitFor(PATIENCE);
  yield { name: '81 sitting, a page under way', page, brief: true };
  await brokenOff(page);
  await past(page);
  yield { name: '82 sitting, melody', page };
  await past(page);
  yield { name: '83 sitting, rhythm', page };
  await past(page);
  yield { name: '84 sitting, questions', page };
  await onward(page);
  await page.locator('main .station .engraved svg').first().waitFor(PATIENCE);
  yield { name: '85 sitting, question', page };
}
