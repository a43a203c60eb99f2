import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Attempt, Homework } from '../../src/store/index.ts';
import { earTest } from '../../src/tests-engine/index.ts';
import { arm } from '../support/simulated-player.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import {
  DEMO,
  DEMO_TESTS,
  heading,
  keepCopies,
  PATIENCE,
  remember,
  restored,
  rowsOf,
  sounding,
  soundsSoFar,
  straightToTheTake,
} from './pages.ts';
import { playedTake } from './takes.ts';

describe('homework in the built app', () => {
  let app: ServedApp;
  beforeAll(async () => {
    app = await serveBuiltApp();
  }, 180_000);
  afterAll(() => app.close());

  const attemptsHere = async (page: Page) =>
    (await rowsOf<Attempt>(page, 'attempts')).filter(({ studentId }) => studentId === DEMO);

  it('goes to the student by link, is played there, and comes back by file and by link, in either order, once each', async () => {
    const teacher = await restored(app);
    await remember(teacher.page, { manner: 'relaxed' });
    await teacher.page.goto(`${app.url}#/teacher/${DEMO}`);
    await teacher.page.reload();
    const copied = await keepCopies(teacher.page);
    // What counts as there for this student goes along.
    await teacher.page.getByText('What counts as “Got it”').click();
    await teacher.page.getByRole('radio', { name: 'Marks of their own' }).check();
    await teacher.page.getByLabel('Got it from').fill('90');
    await teacher.page.getByLabel('Close from').fill('70');
    await teacher.page.getByRole('button', { name: 'Keep these marks' }).click();
    await teacher.page.getByText('Kept: “Got it” from 90, “Close” from 70.').waitFor(PATIENCE);
    await teacher.page.getByLabel('Melodies').selectOption('2');
    await teacher.page.getByLabel('Rhythms').selectOption('0');
    await teacher.page.getByLabel('at level').first().selectOption('1');
    await teacher.page.getByLabel('To be done by').fill('2026-12-05');
    await teacher.page.getByLabel('A line to go with it').fill('Slowly, and sing first.');
    await teacher.page.getByRole('button', { name: 'Make a link' }).click();
    await teacher.page.getByRole('img', { name: 'QR code of the homework link' }).first().waitFor(PATIENCE);
    // The backup brought one homework of one test: until the new one is there, the first link is still that one's.
    await teacher.page.getByText('2 tests, set').waitFor(PATIENCE);
    await teacher.page.getByRole('button', { name: 'Copy the link' }).first().click();
    await teacher.page.getByRole('button', { name: 'Copied' }).waitFor(PATIENCE);
    const link = await copied();
    expect(link).toContain('#homework=');
    const [set] = (await rowsOf<Homework>(teacher.page, 'homework')).filter((one) => one.tests.length === 2);

    const student = await app.page();
    await remember(student.page, {});
    await student.page.goto(link);
    await student.page.getByText('2 tests from your teacher').waitFor(PATIENCE);
    await student.page.getByText('“Got it” from 90, “Close” from 70.').waitFor(PATIENCE);
    await student.page.getByText('Slowly, and sing first.').waitFor(PATIENCE);
    await student.page.getByText('2 of 2 left, by Sat').waitFor(PATIENCE);
    expect(await student.page.locator('main li').count()).toBe(2);
    const copiedThere = await keepCopies(student.page);
    // The first with every note right, the second in silence.
    const saved: Buffer[] = [];
    const links: string[] = [];
    for (const [index, test] of set!.tests.entries()) {
      if (index === 0) await arm(student.page, await playedTake(earTest(test)!));
      const before = await soundsSoFar(student.page);
      await student.page.getByRole('button', { name: `Begin test ${index + 1}` }).click();
      await sounding(student.page, before);
      await straightToTheTake(student.page);
      await student.page.getByRole('button', { name: 'Next test' }).waitFor(PATIENCE);
      // What could not be marked is played again by going on; turning back leaves it so.
      await student.page.keyboard.press(index === 0 ? 'PageDown' : 'PageUp');
      await heading(student.page, 'Homework');
      await student.page
        .getByText(index === 0 ? 'played once' : 'not marked yet: play it again')
        .waitFor(PATIENCE);
      await student.page.getByText('1 of 2 left').waitFor(PATIENCE);
      const download = student.page.waitForEvent('download');
      await student.page.getByRole('button', { name: 'Save results as a file' }).click();
      saved.push(readFileSync(await (await download).path()));
      await student.page.getByRole('button', { name: /Copy a link with the results|Copied/ }).click();
      await student.page.getByRole('button', { name: 'Copied' }).waitFor(PATIENCE);
      links.push(await copiedThere());
    }
    expect(links[1]).not.toBe(links[0]);

    // Late before early, file and link, twice: each attempt is there once, under the name that only the teacher knows.
    await teacher.page.goto(`${app.url}#/teacher`);
    await teacher.page.getByRole('link', { name: 'A. B.' }).waitFor(PATIENCE);
    const hand = async (buffer: Buffer, says: string) => {
      const file = { name: 'twobar-results.twobar', mimeType: 'application/octet-stream', buffer };
      await teacher.page.locator('input[type=file]').setInputFiles(file);
      await teacher.page.getByText(says).waitFor(PATIENCE);
    };
    await hand(saved[1]!, '2 new attempts were added for A. B.; already here: 0.');
    await hand(saved[0]!, '0 new attempts were added for A. B.; already here: 1.');
    for (const [i, says] of ['; already here: 1.', '; already here: 2.'].entries()) {
      await teacher.page.goto(links[i]!);
      await teacher.page.getByText(`0 new attempts were added for A. B.${says}`).waitFor(PATIENCE);
    }
    const back = (await attemptsHere(teacher.page)).filter(({ homeworkId }) => homeworkId === set!.id);
    expect(back.map(({ thresholds }) => thresholds)).toEqual(Array(2).fill({ there: 90, close: 70 }));
    expect(back.map(({ mark }) => mark.outcome)).toEqual(expect.arrayContaining(['there', null]));
    expect(await attemptsHere(teacher.page)).toHaveLength(DEMO_TESTS + 2);
    await teacher.page.goto(`${app.url}#/teacher/${DEMO}`);
    await teacher.page.getByText('2 attempts back, 1 of 2 left').waitFor(PATIENCE);
    // The desk says who owes what.
    await teacher.page.goto(`${app.url}#/teacher`);
    await teacher.page.getByRole('row', { name: 'A. B.' }).getByText('1 of 2 left, by Sat').waitFor(PATIENCE);

    // A cut link is refused with a sentence.
    await student.page.goto(link.slice(0, -9));
    await student.page.getByRole('alert').getByText('cut off').waitFor(PATIENCE);
    expect([...teacher.problems, ...student.problems]).toEqual([]);
    await student.context.close();
    await teacher.context.close();
  });
});
