import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeWav } from '../../src/exchange/index.ts';
import { countInBars, LEAD_SEC as SHEET_LEAD_SEC, TAIL_SEC } from '../../src/tests-engine/index.ts';
import { makePiece } from '../support/piece.ts';
import { arm } from '../support/simulated-player.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { violationsIn } from './axe.ts';
import {
  BAR_ONE_SEC,
  bringBacking,
  bringNotes,
  PART_LEAD_SEC,
  PIECE_METRE,
  playedPart,
  pieceFiles,
  type PieceFiles,
} from './ownPiece.ts';
import { heading, look, PATIENCE, remember, sounding, soundsSoFar } from './pages.ts';

const SAMPLE_RATE = 48_000;
const TEMPO = 100;
/** Bar (from 0) that the player gets wrong. */
const WRONG = 4;

const piece = makePiece(4711, { seconds: 22, level: 5, tempoBpm: TEMPO });
const bars = piece.barSecs.length - 1;

/** The part played, the wrong bar a semitone high. */
const played = (fromBar = 0, toBar = bars) => playedPart(piece, { fromBar, toBar, wrongBar: WRONG });

/** Beat 1 of the take in its sheet, and the sheet's length, for so many bars. */
function sheetOf(count: number, tempo = TEMPO) {
  const start = SHEET_LEAD_SEC + countInBars(PIECE_METRE) * 4 * (60 / tempo);
  return { start, lengthSec: start + count * 4 * (60 / tempo) + TAIL_SEC };
}

describe('a piece of the player’s own in the built app', () => {
  let app: ServedApp;
  let own: PieceFiles;
  beforeAll(async () => {
    own = await pieceFiles(piece);
    app = await serveBuiltApp();
  }, 180_000);
  afterAll(() => app.close());

  async function opened(manner: 'strict' | 'relaxed') {
    const { page, context, problems } = await app.page();
    await remember(page, { checked: true, output: 'speakers', manner, count: 'click' });
    await page.goto(`${app.url}#/piece`);
    await heading(page, 'A piece of your own');
    return { page, problems, close: () => context.close() };
  }
  const bring = (page: Page): Promise<void> => bringBacking(page, own);
  const bringPart = async (page: Page): Promise<void> => {
    await bringNotes(page, own);
    await page.getByText(`${bars} bars with repeats, ${piece.notes.length} notes`).waitFor(PATIENCE);
  };
  const found = async (page: Page): Promise<{ at: number; tempo: number }> => {
    const text = (await page.getByText(/^Bar 1 begins at/).textContent())!;
    const [, at, tempo] = /at ([\d.]+) s; ([\d.]+) beats/.exec(text)!;
    return { at: Number(at), tempo: Number(tempo) };
  };
  /** Four taps a beat apart from bar 1 on, on the app's own clock. */
  const tapBeats = async (page: Page): Promise<void> => {
    const before = await soundsSoFar(page);
    await page.getByRole('button', { name: 'Play with a click' }).click();
    await sounding(page, before);
    await page.evaluate(
      async ([first, beat]) => {
        const { started, context } = window.__twobarPlayer!;
        const begun = started.at(-1)!.startSec;
        for (let k = 0; k < 6; k++) {
          const due = begun + first! + k * beat!;
          while (context!.currentTime - (context!.outputLatency || 0) < due)
            await new Promise((done) => setTimeout(done, 4));
          window.dispatchEvent(new KeyboardEvent('keydown', { key: 't' }));
        }
      },
      [BAR_ONE_SEC, 60 / TEMPO] as const,
    );
    await page.getByText('6 taps').waitFor(PATIENCE);
    await page.getByRole('button', { name: 'Stop' }).click();
    await page.waitForFunction(
      () => !document.body.textContent.includes('Listening to the backing'),
      undefined,
      PATIENCE,
    );
  };

  /** Back to the page of the piece, which is as it was left. */
  const again = async (page: Page): Promise<void> => {
    await page.evaluate(() => (location.hash = '#/piece'));
    await page.getByText(`${bars} bars with repeats`).waitFor(PATIENCE);
    await page.getByText(/^Bar 1 begins at/).waitFor(PATIENCE);
  };

  it('finds bar 1 and the tempo, hears it marked by bars, and names the bar that broke', async () => {
    const { page, problems, close } = await opened('strict');
    await bring(page);
    await bringPart(page);
    await page.getByText(/^Bar 1 begins at/).waitFor(PATIENCE);
    expect((await found(page)).tempo).toBeCloseTo(TEMPO, 0);
    // What listening found is set right by tapping, whatever it was.
    await tapBeats(page);
    const now = await found(page);
    expect(Math.abs(now.at - BAR_ONE_SEC)).toBeLessThan(0.07);
    expect(now.tempo).toBeCloseTo(TEMPO, 0);
    expect(await violationsIn(page, 'piece')).toEqual([]);
    await look(page, 'piece-page');

    const { start, lengthSec: sheetSec } = sheetOf(bars, now.tempo);
    const performance = await played();
    // The tempo that was found is not to the last digit that of the file: any buffer as long as the sheet.
    await arm(page, { ...performance, atSec: start - PART_LEAD_SEC, roundTripSec: 'reported' });
    expect(sheetSec).toBeGreaterThan(20);
    await page.getByRole('button', { name: 'Play it' }).click();
    await page
      .getByText(/^Bar [3-8]$/)
      .first()
      .waitFor(PATIENCE);
    expect(await violationsIn(page, 'playing')).toEqual([]);
    await look(page, 'piece-playing');
    await page.getByText(/^The piece by bars: \d+ of \d+ are secure/).waitFor(PATIENCE);
    await page
      .locator('li.wrong', { hasText: `Bar ${WRONG + 1}: falls apart` })
      .waitFor({ ...PATIENCE, state: 'attached' });
    expect(await page.locator('figure li.wrong').count()).toBe(1);
    await page.locator('p.advice', { hasText: `These bars fell apart: ${WRONG + 1}.` }).waitFor(PATIENCE);
    expect(await violationsIn(page, 'result')).toEqual([]);
    await look(page, 'piece-result');
    expect(problems).toEqual([]);

    // From there to the bars around it, slower.
    await page.getByRole('button', { name: `Practise bars ${WRONG} to ${WRONG + 2}` }).click();
    await heading(page, 'A piece of your own');
    expect(await page.getByLabel('From bar').inputValue()).toBe(String(WRONG - 1));
    await page.getByRole('slider', { name: 'Tempo' }).fill('50');
    await page.getByText('50 %').waitFor(PATIENCE);
    const before = await soundsSoFar(page);
    await page.getByRole('button', { name: 'Play it' }).click();
    await sounding(page, before);
    const slow = sheetOf(3, now.tempo / 2).lengthSec;
    const last = await page.evaluate(() => window.__twobarPlayer!.started.at(-1)!.lengthSec);
    expect(last).toBeCloseTo(slow, 1);
    await page.getByText(`Bar ${WRONG + 1}`, { exact: true }).waitFor(PATIENCE);
    await close();
  });

  it('shows the balance of the first line, and keeps a piece without notes for the teacher', async () => {
    const { page, problems, close } = await opened('relaxed');
    await bring(page);
    await page.evaluate(() => window.__twobarPlayer?.bleed(0, 0));
    const performance = await played(0, 4);
    const { start } = sheetOf(4);
    await arm(page, { ...performance, atSec: start - PART_LEAD_SEC, roundTripSec: 'reported' });
    await page.getByRole('button', { name: 'Sound check on the first line' }).click();
    await page.locator('p.said', { hasText: /backing/ }).waitFor(PATIENCE);
    expect(await violationsIn(page, 'balance')).toEqual([]);
    await look(page, 'piece-balance');
    await page.getByLabel('to bar').selectOption('3');
    await arm(page, { ...performance, atSec: start - PART_LEAD_SEC, roundTripSec: 'reported' });
    await page.getByRole('button', { name: 'Play it' }).click();
    await page.getByText('Nobody but your teacher can mark this.').waitFor(PATIENCE);
    await page.getByText(/notes and strums heard/).waitFor(PATIENCE);
    expect(problems).toEqual([]);
    await close();
  });

  it('says in a sentence what it cannot read, and loses nothing when the microphone is pulled', async () => {
    const { page, close } = await opened('strict');
    await page
      .getByLabel('Choose the backing')
      .setInputFiles({ name: 'letter.wav', mimeType: 'audio/wav', buffer: Buffer.from('no sound') });
    await page.getByText('The browser finds no sound in this file.').waitFor(PATIENCE);
    const second = Buffer.from(writeWav(new Float32Array(SAMPLE_RATE), SAMPLE_RATE));
    await page
      .getByLabel('Choose the backing')
      .setInputFiles({ name: 'second.wav', mimeType: 'audio/wav', buffer: second });
    await page.getByText('The backing is shorter than one bar.').waitFor(PATIENCE);
    await bring(page);
    await page
      .getByLabel('Add the notes')
      .setInputFiles({ name: 'own.xml', mimeType: 'application/xml', buffer: Buffer.from('<a/>') });
    await page.getByText('The file is not MusicXML').waitFor(PATIENCE);
    await bringPart(page);
    await page.getByRole('button', { name: 'Play it' }).click();
    await page
      .getByText(/^Bar \d+$/)
      .first()
      .waitFor(PATIENCE);
    await page.evaluate(() => window.__twobarPlayer!.unplug());
    await page.locator('p.head', { hasText: 'That take does not count' }).waitFor(PATIENCE);
    // The piece is still there, to be played again: this time nobody plays, and it is not marked.
    await again(page);
    await page.getByRole('button', { name: 'Play it' }).click();
    await page.getByRole('alert').getByText('Nothing was heard.').waitFor(PATIENCE);
    expect(await page.locator('p.number').count()).toBe(0);
    expect(await page.locator('figure li.wrong').count()).toBe(0);
    await look(page, 'piece-refused');
    // Left in the middle, it counts as little.
    await again(page);
    await page.getByRole('button', { name: 'Play it' }).click();
    await page
      .getByText(/^Bar \d+$/)
      .first()
      .waitFor(PATIENCE);
    await page.evaluate(() => {
      Object.defineProperty(document, 'visibilityState', { value: 'hidden', configurable: true });
      document.dispatchEvent(new Event('visibilitychange'));
    });
    await page.getByRole('alert').getByText('The page was hidden while you played').waitFor(PATIENCE);
    await close();
  });

  it('asks questions, three answers with help, ticked by the teacher without', async () => {
    const { page, problems, close } = await opened('relaxed');
    await page.goto(`${app.url}#/questions`);
    await heading(page, 'Questions on the page');
    expect(await violationsIn(page, 'questions')).toEqual([]);
    for (let n = 1; n <= 6; n++) {
      await page.getByText(`${n} of 6`, { exact: true }).waitFor(PATIENCE);
      expect(await page.locator('button.choice').count()).toBe(3);
      await page.locator('button.choice').first().click();
      if (n === 1) await look(page, 'questions');
      await page.getByRole('button', { name: 'Next question' }).click();
    }
    await page.getByText(/\d of 6 right/).waitFor(PATIENCE);
    await page.getByText('As in an exam', { exact: true }).click();
    await page.getByRole('button', { name: 'Show the answer' }).click();
    await page.locator('p.answer', { hasText: /^It is: / }).waitFor(PATIENCE);
    await page.getByRole('button', { name: 'Right', exact: true }).click();
    await page.getByText('2 of 6', { exact: true }).waitFor(PATIENCE);
    expect(problems).toEqual([]);
    await close();
  });
});
