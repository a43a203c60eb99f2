import type { Page } from 'playwright-core';
import type { SittingRun, SittingSetup, UnseenChoice } from '../../src/music/sitting.ts';
import { namedScale } from '../../src/music/task.ts';
import { itemNow, itemsAt, type Task } from '../../src/tests-engine/index.ts';
import type { ServedApp } from './app.ts';
import { heading, onward, PATIENCE, recordThere, rowsOf } from './pages.ts';
import { asWritten, playWhenReady, step } from './written.ts';

/** A row of the record's settings, as the app itself keeps it; what it has read already it reads when it is reloaded. */
export async function keepSetting(page: Page, key: string, value: unknown): Promise<void> {
  await recordThere(page);
  await page.evaluate(
    (row) => {
      return new Promise((resolve, reject) => {
        const asked = indexedDB.open('twobar');
        asked.onerror = () => reject(asked.error);
        asked.onsuccess = () => {
          const writing = asked.result.transaction('settings', 'readwrite');
          writing.objectStore('settings').put(row);
          writing.oncomplete = () => (asked.result.close(), resolve(null));
        };
      });
    },
    { key, value },
  );
}
export const keepSetup = (page: Page, setup: SittingSetup): Promise<unknown> =>
  keepSetting(page, 'sittingSetups', [{ id: setup.id, name: setup.name, value: setup }]);

/** Until the examiner says this. */
export const said = (page: Page, words: string): Promise<void> =>
  page.locator('p.says', { hasText: words }).waitFor(PATIENCE);

/** The sitting under way as it lies on the disk. */
export async function runOf(page: Page): Promise<SittingRun> {
  const rows = await rowsOf<{ key: string; value: unknown }>(page, 'settings');
  const kept = rows.find(({ key }) => key === 'sitting')?.value as { run: SittingRun } | undefined;
  if (!kept) throw new Error('no sitting is under way');
  return kept.run;
}
/** What the station that waits will ask first, before it does: whoever plays it has it ready. */
export async function taskToCome(page: Page, choice: UnseenChoice | null = null): Promise<Task> {
  const run = await runOf(page);
  const { tries } = run.stations[run.at]!;
  const [item] = itemsAt(run, run.at, { tries, choice });
  if (item?.is !== 'task') throw new Error(`station ${run.at} asks for no task`);
  return item.task;
}
/** Until an item of this kind is under way; the task itself. */
export async function taskOf(page: Page, kind: Task['kind']): Promise<Task> {
  const until = Date.now() + PATIENCE.timeout;
  for (;;) {
    const run = await runOf(page);
    const item = run.phase === 'under' ? itemNow(run) : null;
    if (item?.is === 'task' && item.task.kind === kind) return item.task;
    if (Date.now() > until) throw new Error(`no ${kind} ever began; it stands at ${run.at}, ${run.phase}`);
    await page.waitForTimeout(50);
  }
}

/** The page of sittings with this one to be begun by one key. */
export async function putTogether(page: Page, app: ServedApp, setup: SittingSetup): Promise<void> {
  await page.goto(`${app.url}#/sitting`);
  await page.getByText('Put one together').waitFor(PATIENCE);
  await keepSetup(page, setup);
  await page.reload();
  await page.getByText(setup.name).waitFor(PATIENCE);
}
/** The station of the sound check, from its page to the next station's. */
export async function throughSoundCheck(page: Page): Promise<void> {
  await heading(page, 'Sound check');
  await onward(page);
  await page.getByRole('button', { name: 'The level is good' }).waitFor(PATIENCE);
  await onward(page);
}
/** A scale is begun and the plug pulled in the middle of it, until that is said; the scale that it was. */
export async function pullThePlug(page: Page): Promise<Task> {
  await onward(page);
  const scale = await taskOf(page, 'scale');
  await step(page, 'Prepare');
  await page.evaluate(() => window.__twobarPlayer!.unplug());
  await page.getByText('The microphone was unplugged.').waitFor(PATIENCE);
  return scale;
}
/** Begins a scale and plays it as it is named; the scale. */
export async function playScale(page: Page) {
  await onward(page);
  const scale = namedScale(await taskOf(page, 'scale'))!;
  await step(page, 'Prepare');
  await onward(page);
  await step(page, 'Play when you are ready');
  await playWhenReady(page, asWritten(scale));
  return scale;
}
/** Answers the question that stands there, right or wrong. */
export async function answer(page: Page, right = true): Promise<void> {
  await page.getByRole('button', { name: 'That is my answer' }).waitFor(PATIENCE);
  const item = itemNow(await runOf(page));
  if (item?.is !== 'question') throw new Error('no question is asked');
  const { choices, answer } = item.question;
  for (let k = choices.findIndex((one) => (one === answer) === right); k > 0; k--)
    await page.keyboard.press('PageUp');
  await onward(page);
}
/** The mark in a row of the report; NaN where it has none. */
export const markIn = (text: string | undefined): number => Number(/^\d+$/m.exec(text ?? '')?.[0] ?? NaN);
