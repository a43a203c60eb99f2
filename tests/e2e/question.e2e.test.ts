import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Attempt } from '../../src/store/index.ts';
import { countedBeats, differingBeats } from '../../src/music/question.ts';
import { makeTest } from '../../src/tests-engine/index.ts';
import { arm } from '../support/simulated-player.ts';
import { violationsIn } from './axe.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import {
  heading,
  onward,
  PATIENCE,
  remember,
  rowsOf,
  sounding,
  step,
  straightToTheTake,
  untilRows,
} from './pages.ts';
import { playedTake } from './takes.ts';

const RHYTHM = { kind: 'rhythm', level: 2, seed: 4711 } as const;
const rhythm = makeTest({ ...RHYTHM, instrument: 'guitar' });
const LINK = `${RHYTHM.kind}/${RHYTHM.level}/${RHYTHM.seed}`;
const back = (page: Page): Promise<void> => page.keyboard.press('PageUp');
const wrong = rhythm.question!.answer === 'A' ? 'B' : 'A';
const parts = differingBeats(rhythm)[0]!;
const { bar, beat } = countedBeats(rhythm.phrase)[parts]!;

describe('the question after a rhythm, in the built app', () => {
  let app: ServedApp;
  beforeAll(async () => {
    app = await serveBuiltApp();
  }, 180_000);
  afterAll(() => app.close());

  async function begin(page: Page): Promise<void> {
    await page.goto(`${app.url}#/start/${LINK}`);
    await heading(page, 'What would you like');
    await arm(page, await playedTake(rhythm));
    await onward(page);
    await sounding(page);
  }

  it('as in an exam a wrong choice is never “Got it”, though every note was right; it stands on the attempt', async () => {
    const { page, context, problems } = await app.page();
    await remember(page, { manner: 'strict', kind: 'rhythm' });
    await begin(page);
    await step(page, 'Find it');
    await onward(page);
    await step(page, 'Play');
    await heading(page, 'Which rhythm was it?');
    for (let press = 0; press < 2; press++) await (wrong === 'A' ? back(page) : onward(page));
    await page.locator('p.outcome', { hasText: 'Close' }).waitFor(PATIENCE);
    expect(Number(await page.locator('p.number').textContent())).toBeGreaterThanOrEqual(95);
    await page.getByText(`You chose ${wrong}. The rhythm was ${rhythm.question!.answer}.`).waitFor(PATIENCE);
    await page.getByText('With the right answer it would be “Got it”').waitFor(PATIENCE);
    await untilRows(page, 'attempts', 1);
    const [kept] = await rowsOf<Attempt>(page, 'attempts');
    expect([kept!.answer, kept!.answerCounts, kept!.mark.outcome]).toEqual([wrong, true, 'there']);
    await page.goto(`${app.url}#/progress`);
    await page.getByText('Which of two: 0 of 1 right.').waitFor(PATIENCE);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('with help asks where both rhythms part, on one time axis, and two keys answer; progress counts it', async () => {
    const { page, context, problems } = await app.page();
    await remember(page, { manner: 'relaxed', kind: 'rhythm', question: 'part' });
    await begin(page);
    await straightToTheTake(page);
    await heading(page, 'At which beat do these two part?');
    await page.locator('.vf-notehead').first().waitFor(PATIENCE);
    expect(await page.locator('.engraved svg').count()).toBe(2);
    expect(await violationsIn(page, 'where they part')).toEqual([]);
    // One button a beat, each as wide as a finger, under the beat's own place.
    const buttons = page.locator('.beats button');
    expect(await buttons.count()).toBe(countedBeats(rhythm.phrase).length);
    for (const box of await buttons.evaluateAll((all) =>
      all.map((one) => one.getBoundingClientRect().toJSON()),
    ))
      expect(Math.min(box.width, box.height)).toBeGreaterThanOrEqual(44);
    for (let press = 0; press <= parts; press++) await onward(page);
    await page.getByRole('button', { name: `Bar ${bar}, beat ${beat}`, pressed: true }).waitFor(PATIENCE);
    await back(page);
    await page.getByText(`You said bar ${bar}, beat ${beat}. They part there.`).waitFor(PATIENCE);
    await page.locator('p.outcome', { hasText: 'Got it' }).waitFor(PATIENCE);
    await untilRows(page, 'attempts', 1);
    const [kept] = await rowsOf<Attempt>(page, 'attempts');
    expect([kept!.answer, kept!.answerCounts]).toEqual([{ form: 'part', beat: parts }, undefined]);
    await page.goto(`${app.url}#/progress`);
    await page.getByText('Where they part: 1 of 1 right.').waitFor(PATIENCE);
    expect(problems).toEqual([]);
    await context.close();
  });
});
