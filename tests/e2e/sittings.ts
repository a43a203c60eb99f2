import type { Page } from 'playwright-core';
import type { SittingRun, SittingSetup, UnseenChoice } from '../../src/music/sitting.ts';
import { itemNow, itemsAt, type Task } from '../../src/tests-engine/index.ts';
import { PATIENCE, rowsOf } from './pages.ts';

/** The setup as the app itself keeps it; the app is reloaded after it. */
export const keepSetup = (page: Page, setup: SittingSetup): Promise<unknown> =>
  page.evaluate((setup) => {
    const row = { key: 'sittingSetups', value: [{ id: setup.id, name: setup.name, value: setup }] };
    return new Promise((resolve, reject) => {
      const asked = indexedDB.open('twobar');
      asked.onerror = () => reject(asked.error);
      asked.onsuccess = () => {
        const writing = asked.result.transaction('settings', 'readwrite');
        writing.objectStore('settings').put(row);
        writing.oncomplete = () => (asked.result.close(), resolve(null));
      };
    });
  }, setup);

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
