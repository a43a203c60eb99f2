import { writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { pack } from '../../src/store/backup/container.ts';
import { homeworkFragment } from '../../src/store/homework/homework.ts';
import { packResults } from '../../src/store/homework/resultsFile.ts';
import { testToMusicXml } from '../../src/exchange/index.ts';
import { makeTest } from '../../src/tests-engine/index.ts';
import { AUDIO_PROBLEMS, IMPORT_PROBLEMS, t } from '../../src/ui/messages.ts';
import type { ImportProblemCode } from '../../src/store/index.ts';
import { ID, packSample, sampleBackup } from '../store/support/backup.ts';
import { sampleAttempt } from '../store/support/sample.ts';
import { HOSTILE } from '../support/hostile.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { heading, onward, PATIENCE, remember, rowsOf, sounding, untilRows } from './pages.ts';

const file = (name: string, bytes: Uint8Array): string => {
  const path = join(tmpdir(), `twobar-advice-${process.pid}-${name}`);
  writeFileSync(path, bytes);
  return path;
};
const says = async (page: Page, code: ImportProblemCode) => {
  const { text, remedy } = IMPORT_PROBLEMS[code];
  const alert = page.getByRole('alert').filter({ hasText: text });
  await alert.waitFor(PATIENCE);
  expect(await alert.innerText()).toContain(remedy);
};

describe('what is said to do', () => {
  let app: ServedApp;
  beforeAll(async () => {
    app = await serveBuiltApp();
  }, 180_000);
  afterAll(() => app.close());

  it('about a file that is refused: nothing was changed, and another copy comes in', async () => {
    const { page, context, problems } = await app.page();
    const whole = await packSample(sampleBackup(3));
    const good = file('good.twobar', whole);
    const attempt = { ...sampleAttempt(ID(0), 1, ID(4)), id: ID(300), atMs: 1e12, order: 1e12 };
    const results = await packResults(ID(4), [attempt]);
    const damaged = whole.slice();
    damaged[200]! ^= 255;
    const later = whole.slice();
    later[8] = 99;
    const big = HOSTILE.find(({ name }) => name === 'backup: 16 MiB of text in 16 kB')!;
    const bad: Readonly<Partial<Record<ImportProblemCode, Uint8Array>>> = {
      'not-ours': new TextEncoder().encode('a letter'),
      truncated: whole.slice(0, 300),
      corrupt: damaged,
      'newer-version': later,
      invalid: await pack('backup', { schema: 1 }),
      'too-big': (await big.make()) as Uint8Array,
      'wrong-kind': results,
    };
    await page.goto(`${app.url}#/data`);
    await heading(page, 'Data');
    for (const [code, bytes] of Object.entries(bad) as [ImportProblemCode, Uint8Array][]) {
      await page.locator('input[type=file]').setInputFiles(file(code, bytes));
      await says(page, code);
      expect(await rowsOf(page, 'attempts'), code).toEqual([]);
    }
    await page.locator('input[type=file]').setInputFiles(good);
    await untilRows(page, 'attempts', 3);
    expect(await page.getByRole('alert').count()).toBe(0);
    // Of another kind: "homework results at the teacher’s desk".
    await page.goto(`${app.url}#/teacher`);
    await page.locator('input[type=file]').first().setInputFiles(file('results', results));
    await untilRows(page, 'attempts', 4);
    // Of homework that nobody set here: the student is chosen.
    const unknown = await packResults(ID(9), [{ ...attempt, homeworkId: ID(9), id: ID(301) }]);
    await page.locator('input[type=file]').first().setInputFiles(file('unknown', unknown));
    await page.getByLabel(t('teacher.results.who')).selectOption({ label: 'A. B.' });
    await untilRows(page, 'attempts', 5);
    // What came in as homework and was never set is not counted, and the sheet that goes home says so.
    const never = { ...sampleAttempt(ID(0), 2, ID(4)), id: ID(302), atMs: Date.now(), order: Date.now() };
    await page
      .locator('input[type=file]')
      .first()
      .setInputFiles(file('never', await packResults(ID(4), [never])));
    await untilRows(page, 'attempts', 6);
    await page.goto(`${app.url}#/teacher/${ID(1)}/sheet`);
    await page
      .locator('article h2', { hasText: t('doubt.short') })
      .first()
      .waitFor(PATIENCE);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('about a link that costs too much: the page answers, and the right link opens', async () => {
    const { page, context, problems } = await app.page();
    const bomb = HOSTILE.find(({ name }) => name === 'homework: 100 codes of 14 MiB')!;
    await page.goto(`${app.url}#homework=${String(await bomb.make())}`);
    await says(page, 'too-big');
    const tests = [1, 2].map((seed) => makeTest({ kind: 'melody', level: 1, seed, instrument: 'guitar' }));
    const homework = { id: ID(7), studentId: ID(1), createdAtMs: 1, dueOn: null, text: '', tests };
    const right = await homeworkFragment({ ...homework, manner: 'strict' }, { there: 85, close: 60 });
    await page.goto(`${app.url}#homework=${right}`);
    await page.getByText('2 tests from your teacher').waitFor(PATIENCE);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('about a file of another program that costs too much: it is refused in words, and the phrase alone comes in', async () => {
    const { page, context, problems } = await app.page();
    const spaces = HOSTILE.find(({ name }) => name === 'MusicXML: spaces in an .mxl of 4 kB')!;
    await page.goto(`${app.url}#/phrases`);
    await page
      .locator('input[type=file]')
      .setInputFiles(file('spaces.mxl', (await spaces.make()) as Uint8Array));
    await page.getByText('damaged or cut short; export it again.').waitFor(PATIENCE);
    const phrase = testToMusicXml(makeTest({ kind: 'melody', level: 2, seed: 4, instrument: 'guitar' }));
    await page
      .locator('input[type=file]')
      .setInputFiles(file('a.musicxml', new TextEncoder().encode(phrase)));
    await page.waitForURL(/#\/phrases\/new/, PATIENCE);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('about a list of chords that is empty: a chord added stands in it, and it can begin', async () => {
    const { page, context, problems } = await app.page();
    await remember(page, {});
    await page.goto(`${app.url}#/chords`);
    await heading(page, t('chords.title'));
    const begin = page.getByRole('button', { name: t('chords.begin') });
    await page.getByRole('button', { name: t('scales.list.new') }).click();
    await page.getByText(t('chords.list.none')).waitFor(PATIENCE);
    expect(await begin.isDisabled()).toBe(true);
    await page.getByLabel(t('chords.list.chord')).fill('F#m7');
    await page.getByRole('button', { name: t('scales.add.one'), exact: true }).click();
    await page.getByRole('button', { name: /: F.m7, 1$/ }).waitFor(PATIENCE);
    expect(await page.getByText(t('chords.list.none')).count()).toBe(0);
    expect(await begin.isDisabled()).toBe(false);
    expect(problems).toEqual([]);
    await context.close();
  });

  it.each([
    ['permission-refused', 'NotAllowedError'],
    ['no-microphone', 'NotFoundError'],
    ['microphone-busy', 'NotReadableError'],
  ] as const)('about the microphone, %s: done, and tried again, the test begins', async (code, error) => {
    const { page, context, problems } = await app.page();
    await remember(page, {});
    await page.addInitScript((name) => {
      const open = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
      let inTheWay = true;
      Object.assign(window, { outOfTheWay: () => (inTheWay = false) });
      navigator.mediaDevices.getUserMedia = (wanted) =>
        inTheWay ? Promise.reject(new DOMException('no', name)) : open(wanted);
    }, error);
    await page.goto(`${app.url}#/start/melody/1/3`);
    await heading(page, 'What would you like');
    await onward(page);
    const alert = page.getByRole('alert').filter({ hasText: AUDIO_PROBLEMS[code].text });
    await alert.waitFor(PATIENCE);
    expect(await alert.innerText()).toContain(AUDIO_PROBLEMS[code].remedy);
    await page.evaluate(() => (window as unknown as { outOfTheWay(): void }).outOfTheWay());
    await page.getByRole('button', { name: 'Try again' }).click();
    await sounding(page);
    expect(problems).toEqual([]);
    await context.close();
  });
});
