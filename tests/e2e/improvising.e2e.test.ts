import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { RATE } from '../../audio-fixtures/chords/index.ts';
import { speechInstalled, spoken } from '../../audio-fixtures/effects/spoken.ts';
import { babble } from '../../audio-fixtures/effects/voice.ts';
import { makeRandom } from '../../audio-fixtures/random.ts';
import { phraseSec } from '../../src/music/time.ts';
import { chartOf, makeImprovising, type Description } from '../../src/tests-engine/index.ts';
import { arm, type Performance } from '../support/simulated-player.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { violationsIn } from './axe.ts';
import { atTake, improvisedLine, improvisedStrokes } from './improvised.ts';
import { heading, look, onward, PATIENCE, remember, rowsOf, untilRows } from './pages.ts';

const SEED = 20261128;
const LEVEL = 1;

const step = (page: Page, word: string) =>
  page.locator('li[aria-current="step"]', { hasText: new RegExp(`^\\s*${word}\\s*$`) }).waitFor(PATIENCE);

const task = makeImprovising({ level: LEVEL, seed: SEED, instrument: 'guitar', prepareClick: false });
const ofChords = makeImprovising({
  ...{ level: LEVEL, seed: SEED, instrument: 'guitar', prepareClick: false },
  plays: 'chords',
});

describe('improvising in the built app, with recorded notes at the microphone', () => {
  let app: ServedApp;
  beforeAll(async () => {
    app = await serveBuiltApp();
  }, 180_000);
  afterAll(() => app.close());

  async function ready({
    plays = 'line',
    manner = 'relaxed',
  }: { plays?: 'line' | 'chords'; manner?: 'strict' | 'relaxed' } = {}): Promise<{
    page: Page;
    problems: string[];
    close(): Promise<void>;
  }> {
    const { page, context, problems } = await app.page();
    // Each chart is drawn from a fresh seed: here always the same one.
    await page.addInitScript((seed) => {
      const random = crypto.getRandomValues.bind(crypto);
      crypto.getRandomValues = ((array: ArrayBufferView) =>
        array instanceof Uint32Array && array.length === 1
          ? (array.fill(seed), array)
          : random(array as Uint8Array<ArrayBuffer>)) as typeof crypto.getRandomValues;
    }, SEED);
    await remember(page, {
      checked: true,
      output: 'speakers',
      manner,
      improvising: { level: LEVEL, plays, prepareClick: false },
    });
    await page.goto(`${app.url}#/improvise`);
    await heading(page, 'Improvising');
    return { page, problems, close: () => context.close() };
  }

  const take = async (page: Page, passes: readonly { readonly silent: readonly number[] }[]): Promise<void> =>
    begun(page, await improvisedLine(task, passes));
  /** Played to the take's own sheet; from the page of choices to the chart. */
  async function begun(page: Page, performance: Performance): Promise<void> {
    await arm(page, performance);
    await onward(page);
    await step(page, 'Prepare');
    await page.locator('li', { hasText: 'Bar 1:' }).waitFor(PATIENCE);
  }

  it('shows the chart for the preparation, runs twice without a break and tells what was played', async () => {
    const { page, problems, close } = await ready();
    expect(await violationsIn(page, 'choice')).toEqual([]);
    await take(page, [{ silent: [2, 3, 4] }, { silent: [] }]);
    await page.getByRole('button', { name: 'Show chord notes' }).click();
    await page
      .getByText(/^Chord: /)
      .first()
      .waitFor(PATIENCE);
    expect(await violationsIn(page, 'chart')).toEqual([]);
    await onward(page);
    await step(page, 'Play');
    await page.getByText('Second time: this one counts').waitFor(PATIENCE);
    await page.locator('p.said', { hasText: 'on the third or the seventh' }).waitFor(PATIENCE);
    // What the practice pass left out is not told of the one that counts.
    const of = chartOf(task).bars;
    await page.getByText('All that was counted').click();
    await page.getByText(`Played in ${of} of ${of} bars`).waitFor(PATIENCE);
    const onStrong = page.getByText(/of \d+ on strong beats in the chord/);
    const [count, all] = (await onStrong.textContent())!.match(/\d+/g)!.map(Number);
    expect(count).toBe(all);
    expect(await page.locator('p.number').count()).toBe(0);
    expect(await violationsIn(page, 'told')).toEqual([]);
    await page
      .getByRole('img', { name: /Your notes over the chart: \d+ chord notes, 0 of the scale/ })
      .waitFor(PATIENCE);
    await page.getByText('For practice').click();
    await page.getByRole('button', { name: 'Your playing' }).click();
    await page
      .locator('line.now')
      .first()
      .waitFor({ ...PATIENCE, state: 'attached' });
    expect(problems).toEqual([]);
    await close();
  });

  it('names the bar of a stop, and keeps what was told', async () => {
    const { page, close } = await ready();
    await take(page, [{ silent: [] }, { silent: [3] }]);
    await onward(page);
    await page.locator('p.said', { hasText: 'In bar 3 you stopped' }).waitFor(PATIENCE);
    await page.locator('p.said', { hasText: 'Next time: keep going.' }).waitFor(PATIENCE);
    await page.goto(`${app.url}#/teacher`);
    await page.reload();
    await page.getByRole('link', { name: 'Me' }).first().click();
    await page
      .getByRole('link', { name: /Improvising/ })
      .first()
      .click();
    await page.locator('p.said', { hasText: 'In bar 3 you stopped' }).waitFor(PATIENCE);
    await close();
  });

  it('tells of strokes how many held the chord of their bar, by keys alone as in an exam', async () => {
    const { page, problems, close } = await ready({ plays: 'chords', manner: 'strict' });
    const wrong = 2;
    const counted = Array.from({ length: chartOf(ofChords).bars }, (_, bar) =>
      bar === wrong - 1 ? 'semitone' : 'chord',
    );
    await begun(page, await improvisedStrokes(ofChords, ['silent', counted]));
    // As in an exam no chord notes are shown.
    expect(await page.getByRole('button', { name: 'Show chord notes' }).count()).toBe(0);
    await onward(page);
    await step(page, 'Play');
    await look(page, 'improvised-chords-playing');
    const strokes = 2 * chartOf(ofChords).bars;
    const said = page.locator('p.said', {
      hasText: 'strokes that could be told held the chord of their bar',
    });
    await said.waitFor(PATIENCE);
    const [held, told] = (await said.textContent())!.match(/\d+/g)!.map(Number);
    // The two of the wrong bar and no other.
    expect(told! - held!).toBe(2);
    expect(told).toBeGreaterThanOrEqual(strokes - 1);
    await page.locator('p.said', { hasText: `look again at bar ${wrong}, another chord` }).waitFor(PATIENCE);
    await page
      .getByRole('img', {
        name: `Your strokes over the chart: ${held} held their chord, 2 did not, ${strokes - told!} can’t be told`,
      })
      .waitFor(PATIENCE);
    expect(await violationsIn(page, 'told of strokes')).toEqual([]);
    await look(page, 'improvised-chords-told');
    const kept = await rowsOf<{ test: unknown; take: { strums: unknown[] }; mark: Description }>(
      page,
      'attempts',
    );
    expect(kept).toHaveLength(1);
    expect(kept[0]!.take.strums.length).toBeGreaterThanOrEqual(strokes - 1);
    expect(problems).toEqual([]);
    await close();
  });

  it('says that nothing was played, and of talk that it was not heard', async () => {
    const talk = speechInstalled() ? spoken(RATE, makeRandom(5)) : babble(10 * RATE, RATE, makeRandom(5));
    const seconds = 2 * phraseSec(task);
    const talking = Float32Array.from({ length: seconds * RATE }, (_, i) => 0.5 * talk[i % talk.length]!);
    const { page, problems, close } = await ready({ manner: 'strict' });
    await begun(page, await improvisedLine(task, [{ silent: [] }]));
    await onward(page);
    await page.getByRole('alert').getByText('Nothing was heard.').waitFor(PATIENCE);
    expect(await page.locator('p.head').textContent()).toBe('Not heard');
    await look(page, 'improvised-nothing');
    await page.goto(`${app.url}#/improvise`);
    await heading(page, 'Improvising');
    await begun(page, atTake(task, talking, RATE));
    await onward(page);
    await page
      .getByRole('alert')
      .getByText(/speech|voice|instrument/i)
      .waitFor(PATIENCE);
    expect(await page.locator('p.said').count()).toBe(0);
    expect(await page.locator('p.number').count()).toBe(0);
    await look(page, 'improvised-refused');
    expect(problems).toEqual([]);
    await close();
  });

  it('costs nothing when the microphone is pulled in either pass, or the page is left, and the same chart is played again', async () => {
    const { page, close } = await ready();
    await take(page, [{ silent: [] }, { silent: [] }]);
    const chart = await page.locator('li', { hasText: 'Bar 1:' }).textContent();
    await onward(page);
    await step(page, 'Play');
    await page.evaluate(() => window.__twobarPlayer!.unplug());
    const lost = page.locator('p.head', { hasText: 'That take does not count' });
    await lost.waitFor(PATIENCE);
    await look(page, 'improvised-void');
    await begun(page, await improvisedLine(task, [{ silent: [] }, { silent: [] }]));
    expect(await page.locator('li', { hasText: 'Bar 1:' }).textContent()).toBe(chart);
    await onward(page);
    await page.getByText('Second time: this one counts').waitFor(PATIENCE);
    await page.evaluate(() => {
      Object.defineProperty(document, 'visibilityState', { value: 'hidden', configurable: true });
      document.dispatchEvent(new Event('visibilitychange'));
    });
    await lost.waitFor(PATIENCE);
    await page.getByRole('alert').getByText('The page was hidden while you played').waitFor(PATIENCE);
    expect(await rowsOf(page, 'attempts')).toEqual([]);
    await page.evaluate(() =>
      Object.defineProperty(document, 'visibilityState', { value: 'visible', configurable: true }),
    );
    await begun(page, await improvisedLine(task, [{ silent: [] }, { silent: [] }]));
    await onward(page);
    await page.locator('p.said').first().waitFor(PATIENCE);
    await untilRows(page, 'attempts', 1);
    await close();
  });
});
