import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { written } from '../../src/music/task.ts';
import type { Attempt, Override } from '../../src/store/index.ts';
import { earTest, ofNotes } from '../../src/tests-engine/index.ts';
import { violationsIn } from './axe.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { DEMO, heading, PATIENCE, restored, rowsOf, untilRows } from './pages.ts';

/** Attempts of the demonstration by the newest first. */
const attemptsOf = async (page: Page): Promise<Attempt[]> =>
  (await rowsOf<Attempt>(page, 'attempts')).sort((a, b) => b.order - a.order);

async function openAttempt(page: Page, app: ServedApp, { id }: Attempt): Promise<void> {
  await page.goto(`${app.url}#/teacher/${DEMO}/${id}`);
  await page.locator('.marked .engraved svg').first().waitFor(PATIENCE);
}
const number = async (page: Page): Promise<number> =>
  Number(await page.locator('p.number').first().textContent());

describe('the marked page of a kept attempt', () => {
  let app: ServedApp;
  beforeAll(async () => {
    app = await serveBuiltApp();
  }, 180_000);
  afterAll(() => app.close());

  it('lets every link and button be pressed where it is seen, wide and narrow', async () => {
    for (const viewport of [
      { width: 1280, height: 800 },
      { width: 390, height: 844 },
      { width: 844, height: 390 },
    ]) {
      const { page, context } = await restored(app, { viewport });
      await openAttempt(page, app, (await attemptsOf(page))[0]!);
      const covered = await page.evaluate(() =>
        [
          ...document.querySelectorAll<HTMLElement>('main a, main button:not([tabindex="-1"]), main summary'),
        ].flatMap((element) => {
          if (!element.checkVisibility()) return [];
          element.scrollIntoView({ block: 'center' });
          const box = element.getClientRects()[0]!;
          const free = [0.25, 0.5, 0.75].every((share) => {
            const hit = document.elementFromPoint(box.x + box.width / 2, box.y + box.height * share);
            return hit !== null && (element.contains(hit) || hit.contains(element));
          });
          return free ? [] : [element.innerText];
        }),
      );
      expect(covered, `${viewport.width}`).toEqual([]);
      await page.getByRole('link', { name: 'Back', exact: true }).click();
      await page.getByText('Lesson notes').waitFor(PATIENCE);
      await context.close();
    }
  });

  it('shows the A/B answer and both rhythms, beat over beat', async () => {
    const { page, context } = await restored(app);
    const attempts = await attemptsOf(page);
    const rhythm = attempts.find(({ answer }) => answer !== null)!;
    await openAttempt(page, app, rhythm);
    await page.getByText(`You chose ${rhythm.answer}.`).waitFor(PATIENCE);
    const [a, b] = await Promise.all(
      ['Rhythm A', 'Rhythm B'].map((name) =>
        page
          .getByRole('img', { name })
          .locator('.vf-stavenote .vf-notehead')
          .evaluateAll((heads) => heads.map((head) => Math.round(head.getBoundingClientRect().x))),
      ),
    );
    const shared = (one: readonly number[], other: readonly number[]) =>
      one.filter((x) => other.some((y) => Math.abs(x - y) <= 1)).length;
    const { phrase, question } = earTest(rhythm.test)!;
    const starts = ({ notes }: typeof phrase) => notes.map(({ startTicks }) => startTicks);
    const both = starts(phrase).filter((at) => starts(question!.other).includes(at)).length;
    expect(both).toBeGreaterThan(0);
    expect(shared(a!, b!)).toBeGreaterThanOrEqual(both);
    await context.close();
  });

  it('numbers its notes, changes a verdict by a press on one, and lets the mark follow', async () => {
    const { page, context, problems } = await restored(app);
    const attempts = await attemptsOf(page);
    const off = attempts.find(
      ({ mark, test }) =>
        test.kind === 'melody' &&
        mark.mark !== null &&
        mark.mark > 30 &&
        ofNotes(mark)!.verdicts.some((v) => v.kind === 'wrong'),
    )!;
    const wrong = ofNotes(off.mark)!.verdicts.find(({ kind }) => kind === 'wrong')!.targetIndex!;
    await openAttempt(page, app, off);
    const numbers = await page.locator('.verdicts .number').allTextContents();
    expect(numbers.map(Number).sort((a, b) => a - b)).toEqual(
      written(off.test)!.phrase.notes.map((_, i) => i + 1),
    );
    const machine = await number(page);
    await page.locator(`[data-note="${wrong + 1}"]`).click();
    await page.getByText(`Note ${wrong + 1},`).waitFor(PATIENCE);
    await page.getByRole('button', { name: 'right', exact: true }).click();
    const followed = await number(page);
    expect(followed).toBeGreaterThan(machine);
    await page.getByText(`Twobar’s mark: ${machine}.`).waitFor(PATIENCE);
    await page.getByText(`With your verdicts it is ${followed}.`).waitFor(PATIENCE);
    await page.getByLabel('Remark', { exact: true }).fill('Sung well.');
    await page.getByRole('button', { name: 'Keep mark and remark' }).click();
    await page.getByText('Twobar’s mark stays beside it.').waitFor(PATIENCE);
    const kept = (await rowsOf<Override>(page, 'overrides')).find(({ attemptId }) => attemptId === off.id)!;
    expect(Math.round(kept.mark!)).toBe(followed);
    // Again, now with the remark alone: what was before is a mark, not "not marked".
    await page.getByLabel('Remark', { exact: true }).fill('Sung very well.');
    await page.getByRole('button', { name: 'Keep mark and remark' }).click();
    await page.getByText(`Earlier: ${followed},`).waitFor(PATIENCE);
    await page.reload();
    await page.locator('.margin-note', { hasText: 'Sung very well.' }).waitFor(PATIENCE);
    expect(await number(page)).toBe(followed);
    expect(await page.getByText('not marked').count()).toBe(0);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('says why a mark cannot be kept', async () => {
    const { page, context } = await restored(app);
    await openAttempt(page, app, (await attemptsOf(page))[0]!);
    for (const typed of ['101', '-3', 'good']) {
      await page.getByLabel('Your mark').fill(typed);
      await page.getByRole('alert').getByText('A mark is a number from 0 to 100.').waitFor(PATIENCE);
      expect(await page.getByRole('button', { name: 'Keep mark and remark' }).isDisabled()).toBe(true);
    }
    await page.getByLabel('Your mark').fill('72,5');
    await page.getByRole('button', { name: 'Keep mark and remark' }).click();
    await page.getByText('Twobar’s mark stays beside it.').waitFor(PATIENCE);
    await context.close();
  });

  it('sets its test as homework and for next week, saves it, and leads to its other attempts', async () => {
    const { page, context } = await restored(app);
    const attempts = await attemptsOf(page);
    await openAttempt(page, app, attempts[0]!);
    const before = (await rowsOf(page, 'homework')).length;
    await page.getByRole('button', { name: 'Set as homework' }).click();
    await page.getByText('Set as homework.').waitFor(PATIENCE);
    await untilRows(page, 'homework', before + 1);
    await page.getByRole('button', { name: 'Again next week' }).click();
    await page.getByText('To be heard again from').waitFor(PATIENCE);
    await page.getByText('Save or send this test').click();
    const saving = page.waitForEvent('download');
    await page.getByRole('button', { name: 'MusicXML' }).click();
    expect((await saving).suggestedFilename()).toMatch(/\.musicxml$/);
    await page.getByRole('link', { name: 'A. B.' }).click();
    await page.getByText('To be heard again').waitFor(PATIENCE);
    await page.getByRole('button', { name: 'No more' }).click();
    await page.getByText('To be heard again').waitFor({ ...PATIENCE, state: 'detached' });
    await context.close();
  });

  it('gives axe nothing to find with a note pressed, in light and dark', async () => {
    const { page, context } = await restored(app);
    await openAttempt(page, app, (await attemptsOf(page))[1]!);
    await page.locator('[data-note="1"]').click();
    expect(await violationsIn(page, 'attempt', ['light', 'dark'])).toEqual([]);
    await context.close();
  });
});

describe('blind marking', () => {
  let app: ServedApp;
  beforeAll(async () => {
    app = await serveBuiltApp();
  }, 180_000);
  afterAll(() => app.close());

  it('shows and plays what was asked, and nothing of the machine’s, before the mark is given', async () => {
    const { page, context } = await restored(app);
    await page.goto(`${app.url}#/teacher/blind`);
    await heading(page, 'Mark takes blind');
    await page.getByText('Twobar’s mark is shown only after yours').waitFor(PATIENCE);
    await page.getByRole('img', { name: 'What was asked' }).locator('.vf-notehead').first().waitFor(PATIENCE);
    await page.getByRole('button', { name: 'The phrase' }).click();
    await page.getByRole('button', { name: 'The phrase', pressed: true }).waitFor(PATIENCE);
    expect(await page.locator('.verdicts, p.number').count()).toBe(0);
    await page.getByLabel('Your mark').fill('70');
    await page.getByText('Give your initials first').waitFor(PATIENCE);
    await page.getByLabel('Your initials').fill('kt');
    await page.getByRole('button', { name: 'Give this mark' }).click();
    await page.getByText('You gave 70, Twobar').waitFor(PATIENCE);
    await context.close();
  });
});
