import { writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { attemptAt, CHARTS, CHORDS, PAGES, SCALES } from '../long/samples.ts';
import { ID, packSample, sampleBackup } from '../store/support/backup.ts';
import { sampleAttempt } from '../store/support/sample.ts';
import { learner } from '../tests-engine/progress/learner.ts';
import type { Attempt, Student } from '../../src/store/index.ts';
import { makeTest, markTask } from '../../src/tests-engine/index.ts';
import type { ServedApp } from '../e2e/app.ts';
import { PATIENCE } from '../e2e/pages.ts';

/** The student whose record is full; the others have a few tests, or none. */
export const HOUSE_STUDENT = ID(1);
/** Of our own invention. */
const OTHERS = ['B. Amsel', 'C. D.', 'Edda F.', 'G. Hollunder', 'I. J.', 'Kuno', 'L. M.'];
const DAY_MS = 86_400_000;

/** A record of eight students, the first of them with sixty tests over a month, put into the app through its data page. */
export async function restoreHouse(page: Page, app: ServedApp): Promise<Attempt[]> {
  const sample = sampleBackup(60);
  const { records } = sample.json as unknown as { records: { students: Student[]; attempts: Attempt[] } };
  const now = Date.now();
  records.attempts.forEach((attempt, i) => {
    Object.assign(attempt, { atMs: now - (60 - i) * 0.5 * DAY_MS, order: now - (60 - i) * 0.5 * DAY_MS });
  });
  // One of four bars, as the level of the demonstration has few of them.
  const long = makeTest({ kind: 'melody', level: 8, seed: 3, instrument: 'guitar' });
  const take = learner({ seed: 5, mayBeWeak: ['third-up', 'step-down'] }).take(long);
  Object.assign(records.attempts.at(-2)!, {
    ...{ test: long, take, answer: null, manner: 'strict', help: {} },
    mark: markTask(long, take, { latencyUncertaintyMs: 6 }),
  });
  // One of every other task, from before: a page, a scale, a list of chords, a chart.
  [PAGES[3]!, SCALES[2]!, CHORDS[1]!, CHARTS[1]!].forEach((task, i) => {
    const atMs = now - (40 - i) * DAY_MS;
    records.attempts.unshift({ ...attemptAt(task, i), atMs, order: atMs });
  });
  OTHERS.forEach((name, i) => {
    const id = ID(20 + i);
    records.students.push({
      ...records.students[0]!,
      id,
      name,
      lessonDay: (i % 5) + 1,
      examOn: null,
      remark: '',
    } as Student);
    for (let n = 0; n < i; n++)
      records.attempts.push({
        ...sampleAttempt(id, 100 + 10 * i + n),
        ...{
          id: ID(1000 + 10 * i + n),
          atMs: now - n * DAY_MS - i * 3_600_000,
          order: now - n * DAY_MS - i * 3_600_000,
        },
      } as Attempt);
  });
  (sample.json as { exportedAtMs: number }).exportedAtMs = now - 60_000;
  await page.goto(`${app.url}#/data`);
  // By its path: over WebDriver BiDi no other file reaches a page.
  const path = join(tmpdir(), `twobar-house-${process.pid}.twobar`);
  writeFileSync(path, await packSample(sample));
  await page.locator('input[type=file]').setInputFiles(path);
  // Who can play is known to the page once all of it is in the record.
  await page
    .locator('header select option')
    .nth(OTHERS.length)
    .waitFor({ ...PATIENCE, state: 'attached' });
  return records.attempts.filter(({ studentId }) => studentId === HOUSE_STUDENT).reverse();
}
