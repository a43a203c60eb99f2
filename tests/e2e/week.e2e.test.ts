import { readFileSync } from 'node:fs';
import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeTest } from '../../src/tests-engine/index.ts';
import type { Attempt, Homework, Override, Student } from '../../src/store/index.ts';
import { arm } from '../support/simulated-player.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { heading, keepCopies, PATIENCE, rowsOf, sounding, soundsSoFar, step, untilRows } from './pages.ts';
import { playedTake } from './takes.ts';

/** Every test is drawn from a fresh seed: here one after the other from this one on, and again from it where it is known what comes. */
const SEED = 20261128;
const NAMES = ['A. Amsel', 'Bela', 'C. D.', 'Edda F.', 'G. Hollunder', 'I. J.', 'Kuno', 'L. M.'];

const seedAgain = (page: Page): Promise<unknown> =>
  page.evaluate((seed) => Object.assign(window, { __seed: seed }), SEED);

/** What was pressed, typed or chosen, one each; a word typed into a field is one. */
class Hand {
  presses = 0;
  async press(what: Locator): Promise<void> {
    this.presses += 1;
    await what.click(PATIENCE);
  }
  async key(page: Page, key: string): Promise<void> {
    this.presses += 1;
    await page.keyboard.press(key);
  }
  async type(field: Locator, text: string): Promise<void> {
    this.presses += 1;
    await field.fill(text, PATIENCE);
  }
  async choose(select: Locator, label: string): Promise<void> {
    this.presses += 1;
    await select.selectOption({ label }, PATIENCE);
  }
}

const pedal = (page: Page): Promise<void> => page.keyboard.press('PageDown');
const button = (page: Page, name: string | RegExp): Locator => page.getByRole('button', { name });
const marked = (page: Page): Promise<void> => page.locator('p.number').waitFor({ timeout: 150_000 });

describe('a week of lessons, by screens alone', () => {
  let app: ServedApp;
  let desk: Page;
  const problems: string[] = [];
  /** What the week took, printed at its end: presses, and how many may be needed at most. */
  const counts: [what: string, presses: number, most: number][] = [];
  const count = (what: string, hand: Hand, most: number): void => {
    counts.push([what, hand.presses, most]);
    expect(hand.presses, what).toBeLessThanOrEqual(most);
  };

  async function visitor(viewport = { width: 1280, height: 800 }): Promise<Page> {
    const { page, problems: here } = await app.page({ viewport });
    await page.addInitScript((seed) => {
      const random = crypto.getRandomValues.bind(crypto);
      Object.assign(window, { __seed: seed });
      crypto.getRandomValues = ((array: ArrayBufferView) =>
        array instanceof Uint32Array && array.length === 1
          ? (array.fill((window as unknown as { __seed: number }).__seed++), array)
          : random(array as Uint8Array<ArrayBuffer>)) as typeof crypto.getRandomValues;
    }, SEED);
    page.on('close', () => problems.push(...here));
    return page;
  }
  /** Through the sound check with loudspeakers by one key. */
  async function soundCheck(page: Page, hand: Hand): Promise<void> {
    for (const title of ['Before you play', 'What do you play?', 'Which microphone']) {
      await heading(page, title);
      await hand.key(page, 'PageDown');
    }
    await page.locator('header .on').waitFor(PATIENCE);
    await hand.key(page, 'PageDown');
    for (const title of ['lowest string', 'in tune', 'sound come out']) {
      await heading(page, title);
      await hand.key(page, 'PageDown');
    }
    await heading(page, 'How well can I hear you');
    // The backing of this page took a seed too.
    await seedAgain(page);
    await hand.press(button(page, 'Skip'));
  }

  beforeAll(async () => {
    app = await serveBuiltApp();
    desk = await visitor();
  }, 180_000);
  afterAll(async () => {
    process.stdout.write(
      `${counts.map(([what, presses, most]) => `${what}: ${presses} presses (at most ${most})`).join('\n')}\n`,
    );
    await app.close();
  });

  it('Monday: from the first load to the first mark with loudspeakers', async () => {
    const hand = new Hand();
    await desk.goto(app.url);
    await heading(desk, 'What would you like');
    await arm(
      desk,
      await playedTake(makeTest({ kind: 'melody', level: 1, seed: SEED, instrument: 'guitar' })),
    );
    await hand.press(button(desk, 'Begin'));
    await soundCheck(desk, hand);
    await sounding(desk);
    // The strict procedure goes on by itself, from the hearing to the mark.
    await marked(desk);
    expect(Number(await desk.locator('p.number').textContent())).toBeGreaterThanOrEqual(95);
    count('first load to first mark, loudspeakers', hand, 9);
  });

  it('Tuesday: eight students at the desk, a chosen test for one, the teacher’s mark and remark', async () => {
    await desk.goto(`${app.url}#/teacher`);
    for (const name of NAMES) {
      await desk.getByLabel('Name or initials').fill(name);
      await button(desk, 'Add a student').click();
      await desk.getByRole('link', { name, exact: true }).waitFor(PATIENCE);
    }
    expect((await rowsOf<Student>(desk, 'students')).map(({ name }) => name)).toEqual(
      expect.arrayContaining(NAMES),
    );

    const test = makeTest({ kind: 'melody', level: 2, seed: SEED, instrument: 'guitar' });
    await desk.goto(`${app.url}#/`);
    await heading(desk, 'What would you like');
    await arm(desk, await playedTake(test, { 2: { higher: 2 } }));
    const choosing = new Hand();
    await choosing.choose(desk.locator('header select'), 'Edda F.');
    await choosing.press(desk.getByRole('radio', { name: /^Level 2:/ }));
    const before = await soundsSoFar(desk);
    await seedAgain(desk);
    await choosing.press(button(desk, 'Begin'));
    await sounding(desk, before);
    count('a chosen test for a student', choosing, 3);
    await step(desk, 'Find it');
    await pedal(desk);
    await marked(desk);

    const overriding = new Hand();
    await overriding.press(desk.getByText('Teacher’s mark and remark'));
    await overriding.type(desk.getByLabel('Your mark'), '90');
    await overriding.type(desk.getByLabel('Remark', { exact: true }), 'Sung well; mind bar 1.');
    await overriding.press(button(desk, 'Keep mark and remark'));
    await untilRows(desk, 'overrides', 1);
    count('override with a remark', overriding, 4);
    const [kept] = await rowsOf<Override>(desk, 'overrides');
    expect([kept!.mark, kept!.remark]).toEqual([90, 'Sung well; mind bar 1.']);
  });

  let link = '';
  it('Wednesday: homework of five mixed tests, as a link', async () => {
    await desk.goto(`${app.url}#/teacher`);
    const copied = await keepCopies(desk);
    const hand = new Hand();
    await hand.press(desk.getByRole('link', { name: 'Edda F.', exact: true }));
    await hand.press(button(desk, 'Make a link'));
    await hand.press(button(desk, 'Copy the link').first());
    link = await copied();
    count('homework of five mixed tests, copied', hand, 6);
    const [set] = await rowsOf<Homework>(desk, 'homework');
    expect(set!.tests.map(({ kind }) => kind).sort()).toEqual([
      ...Array<string>(3).fill('melody'),
      ...Array<string>(2).fill('rhythm'),
    ]);
  });

  let results = '';
  it('Thursday: on a phone that has never seen the app, one of the five', async () => {
    const phone = await visitor({ width: 390, height: 844 });
    await phone.goto(link);
    await phone.getByText('5 tests from your teacher').waitFor(PATIENCE);
    const [set] = await rowsOf<Homework>(desk, 'homework');
    await arm(phone, await playedTake(set!.tests[0] as Parameters<typeof playedTake>[0]));
    await button(phone, 'Begin test 1').click();
    await soundCheck(phone, new Hand());
    await sounding(phone);
    await marked(phone);
    expect(Number(await phone.locator('p.number').textContent())).toBeGreaterThanOrEqual(95);
    await pedal(phone);
    await phone.getByText('4 of 5 left').waitFor(PATIENCE);
    const copied = await keepCopies(phone);
    await button(phone, 'Copy a link with the results').click();
    await button(phone, 'Copied').waitFor(PATIENCE);
    results = await copied();
    await phone.close();
  });

  it('Friday: the result back at the desk, the sheet, a backup, and another machine', async () => {
    const hand = new Hand();
    // To open the link that was sent is the only press, and it is made in the message.
    hand.presses += 1;
    await desk.goto(results);
    await desk.getByText('for Edda F.').waitFor(PATIENCE);
    count('a result back at the desk', hand, 1);
    const edda = (await rowsOf<Student>(desk, 'students')).find(({ name }) => name === 'Edda F.')!;
    const hers = (await rowsOf<Attempt>(desk, 'attempts')).filter(({ studentId }) => studentId === edda.id);
    expect(hers).toHaveLength(2);
    await desk.goto(`${app.url}#/teacher`);
    await desk.getByRole('row', { name: 'Edda F.' }).getByText('4 of 5 left').waitFor(PATIENCE);
    await desk.goto(`${app.url}#/teacher/${edda.id}/sheet`);
    await desk.locator('article').nth(1).locator('.engraved svg').first().waitFor(PATIENCE);
    await desk.getByText('Sung well; mind bar 1.').waitFor(PATIENCE);

    await desk.goto(`${app.url}#/data`);
    const saving = desk.waitForEvent('download', PATIENCE);
    await button(desk, 'Save everything to one file').click();
    const buffer = readFileSync(await (await saving).path());
    const other = await visitor();
    await other.goto(`${app.url}#/data`);
    await heading(other, 'Data');
    const file = { name: 'backup.twobar', mimeType: 'application/octet-stream', buffer };
    await other.locator('input[type=file]').setInputFiles(file);
    for (const table of ['students', 'attempts', 'overrides', 'homework'])
      await untilRows(other, table, (await rowsOf(desk, table)).length);
    await other.close();
    await desk.close();
    expect(problems).toEqual([]);
  });
});
