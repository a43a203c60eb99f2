import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeTest } from '../../src/tests-engine/index.ts';
import { arm } from '../support/simulated-player.ts';
import { violationsIn } from './axe.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { playedTake } from './takes.ts';
import { PATIENCE } from './patience.ts';

/** Long enough for a hearing in real time on a machine that does other work beside. */

const MELODY = { kind: 'melody', level: 2, seed: 20261124 } as const;
const RHYTHM = { kind: 'rhythm', level: 2, seed: 4711 } as const;
const melody = makeTest({ ...MELODY, instrument: 'guitar' });
const rhythm = makeTest({ ...RHYTHM, instrument: 'guitar' });

const onward = (page: Page) => page.keyboard.press('PageDown');
const back = (page: Page) => page.keyboard.press('PageUp');
const step = (page: Page, word: string) =>
  page.locator('li[aria-current="step"]', { hasText: new RegExp(`^\\s*${word}\\s*$`) }).waitFor(PATIENCE);
const result = (page: Page) => page.locator('button', { hasText: 'Next test' }).waitFor(PATIENCE);
const mark = async (page: Page) => Number(await page.locator('p.number').textContent());
/** Verdicts of the details' table, one for each note. */
const verdicts = (page: Page) => page.locator('details tbody tr td:nth-child(2)').allTextContents();

/** The steps that the page goes through from here on, in their order: none is missed because looking at the page took long. */
async function stepsShown(page: Page): Promise<() => Promise<string[]>> {
  const shown = await page.evaluateHandle(() => {
    const found: string[] = [];
    const look = (): void => {
      const word = document.querySelector('li[aria-current="step"]')?.textContent.trim();
      if (word && word !== found.at(-1)) found.push(word);
    };
    new MutationObserver(look).observe(document.body, { subtree: true, childList: true, attributes: true });
    look();
    return found;
  });
  return () => shown.jsonValue();
}

/** Through the sound check by keys alone. */
async function soundCheck(page: Page): Promise<void> {
  for (const title of ['Before you play', 'What do you play?', 'Which microphone']) {
    await page.locator('h1', { hasText: title }).waitFor(PATIENCE);
    await onward(page);
  }
  await page.getByText('Microphone on').waitFor(PATIENCE);
  await onward(page);
  for (const title of ['lowest string', 'in tune', 'sound come out']) {
    await page.locator('h1', { hasText: title }).waitFor(PATIENCE);
    await onward(page);
  }
  // The player's microphone hears no loudspeaker; four notes are asked for instead, and skipped.
  await page.locator('h1', { hasText: 'How well can I hear you' }).waitFor(PATIENCE);
  await onward(page);
  await page
    .locator('#page')
    .getByText('The microphone picks up nothing from the loudspeaker')
    .waitFor(PATIENCE);
  await onward(page);
  await page.locator('h1', { hasText: 'Play four notes' }).waitFor(PATIENCE);
  await back(page);
}

/** Relaxed: past the hearing and the practice window at once. */
async function straightToTheCount(page: Page): Promise<void> {
  await step(page, '(Key|Listen)');
  await page.waitForFunction(() => (window.__twobarPlayer?.started.length ?? 0) > 0, null, PATIENCE);
  await onward(page);
  await step(page, 'Find it');
  await onward(page);
  await step(page, 'Play');
}

describe('the main job in the built app, under a sub-path, with recorded notes at the microphone', () => {
  let app: ServedApp;
  let page: Page;
  let problems: string[];
  const barriers: string[] = [];
  beforeAll(async () => {
    app = await serveBuiltApp();
    ({ page, problems } = await app.page());
  }, 180_000);
  afterAll(() => app.close());

  it('goes from first load through the sound check and a strict melody test with two keys; a right take gets 95 or more', async () => {
    await page.goto(`${app.url}#/start/${MELODY.kind}/${MELODY.level}/${MELODY.seed}`);
    await page.locator('h1').first().waitFor(PATIENCE);
    await onward(page);
    // The take lies ready before the sound check, after which the test begins by itself.
    await arm(page, await playedTake(melody));
    await soundCheck(page);
    const steps = await stepsShown(page);
    await step(page, 'Listen');
    // The answer is not on the page before the take: the stave holds the given first note alone, and TAB its fret.
    expect(await page.locator('.stage .vf-notehead').count()).toBe(1);
    expect(await page.locator('.stage .vf-tabnote').allTextContents()).toEqual([
      String(melody.phrase.notes[0]!.fret),
    ]);
    barriers.push(...(await violationsIn(page, 'hearing')));
    await step(page, 'Find it');
    expect(await steps()).toEqual(expect.arrayContaining(['Listen', 'Again', 'Find it']));
    barriers.push(...(await violationsIn(page, 'practice window')));
    await onward(page);
    await step(page, 'Play');
    await result(page);
    await page.locator('.vf-notehead').first().waitFor(PATIENCE);
    barriers.push(...(await violationsIn(page, 'result')));
    expect(await mark(page)).toBeGreaterThanOrEqual(95);
    expect(new Set(await verdicts(page))).toEqual(new Set(['right']));
  });

  it('names exactly the wrong note and the late note of the same test played again', async () => {
    await arm(page, await playedTake(melody, { 2: { higher: 2 }, 5: { laterSec: 0.18 } }));
    await back(page);
    await straightToTheCount(page);
    await result(page);
    const named = (await verdicts(page)).map((verdict, i) => [i, verdict] as const);
    expect(named.filter(([, verdict]) => verdict !== 'right')).toEqual([
      [2, 'wrong note'],
      [5, 'late'],
    ]);
  });

  it('calls one late note of eleven late and draws the others on the line, though the latency was not measured', async () => {
    await arm(page, await playedTake(melody, { 5: { laterSec: 0.18 } }));
    await back(page);
    await straightToTheCount(page);
    await result(page);
    expect(await verdicts(page)).toEqual(melody.phrase.notes.map((_, i) => (i === 5 ? 'late' : 'right')));
    const times = await page.locator('details tbody tr td:nth-child(3)').allTextContents();
    const ms = times.map((text) => Number(text.replace('−', '-')));
    expect(Math.abs(ms[5]! - 180)).toBeLessThanOrEqual(10);
    expect(Math.max(...ms.map((x, i) => (i === 5 ? 0 : Math.abs(x))))).toBeLessThanOrEqual(10);
  });

  it('does not mark silence, and says so with a remedy', async () => {
    await back(page);
    await straightToTheCount(page);
    await result(page);
    await page.getByText('Not marked').first().waitFor(PATIENCE);
    barriers.push(...(await violationsIn(page, 'not marked')));
    expect(await page.locator('p.number').count()).toBe(0);
    expect(await page.getByRole('alert').textContent()).toMatch(/heard\..*(Check|check)/);
  });

  it('goes on to a second test: from the first load to here nothing but two keys was touched', async () => {
    // Going on would play the same again, as it was not marked.
    await back(page);
    await step(page, '(Key|Listen)');
  });

  it('marks a right rhythm 95 or more, asks which of two it was, and says whether that is so', async () => {
    await page.goto(`${app.url}#/start/${RHYTHM.kind}/${RHYTHM.level}/${RHYTHM.seed}`);
    await page.locator('h1', { hasText: 'What would you like to play?' }).waitFor(PATIENCE);
    await arm(page, await playedTake(rhythm));
    await onward(page);
    await step(page, 'Listen');
    await step(page, 'Find it');
    await onward(page);
    await step(page, 'Play');
    await page.locator('h1', { hasText: 'Which rhythm was it?' }).waitFor(PATIENCE);
    await page.locator('.vf-notehead').first().waitFor(PATIENCE);
    barriers.push(...(await violationsIn(page, 'question')));
    const key = rhythm.question!.answer === 'A' ? 'PageUp' : 'PageDown';
    await page.keyboard.press(key);
    await page.keyboard.press(key);
    await result(page);
    expect(await mark(page)).toBeGreaterThanOrEqual(95);
    await page.getByText(`You chose ${rhythm.question!.answer}. That is the rhythm.`).waitFor(PATIENCE);
  });

  it('plays the phrase and the take together, each as long as the phrase, with a line through the notes', async () => {
    const before = await page.evaluate(() => window.__twobarPlayer!.started.length);
    for (const name of ['The phrase', 'My take', 'Both']) {
      await page.getByRole('button', { name, exact: true }).click();
      await page.locator('.hair').first().waitFor(PATIENCE);
    }
    await page.getByRole('button', { name: 'Both', exact: true }).click();
    const lengths = await page.evaluate(() =>
      window.__twobarPlayer!.started.map(({ lengthSec }) => lengthSec),
    );
    expect(lengths.length - before).toBe(3);
    expect(new Set(lengths.slice(before)).size).toBe(1);
  });

  it('gives axe nothing to find on any of these screens, in light and dark', () => {
    expect(barriers).toEqual([]);
  });

  it('breaks no rule of its own policy and throws nothing along the way', () => {
    expect(problems).toEqual([]);
  });
});
