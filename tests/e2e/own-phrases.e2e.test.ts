import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { read } from 'midifile-ts';
import type { Download, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  testFromMidi,
  testFromMusicXml,
  readWav,
  testFromHash,
  testToMusicXml,
} from '../../src/exchange/index.ts';
import type { PracticeTest } from '../../src/music/score.ts';
import { likeThe } from '../exchange/options.ts';
import { clickSheet, earTest, makeTest, wholeSheet } from '../../src/tests-engine/index.ts';
import { arm } from '../support/simulated-player.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { playedTake } from './takes.ts';
import { PATIENCE } from './patience.ts';

const heading = (page: Page, text: string | RegExp) =>
  page.locator('h1', { hasText: text }).waitFor(PATIENCE);
const step = (page: Page, word: string) =>
  page.locator('li[aria-current="step"]', { hasText: new RegExp(`^\\s*${word}\\s*$`) }).waitFor(PATIENCE);
const remember = (page: Page) =>
  page.addInitScript(() =>
    Object.assign(localStorage, {
      'twobar.settings': JSON.stringify({ checked: true, manner: 'relaxed', output: 'speakers' }),
    }),
  );
const testOf = async (page: Page): Promise<PracticeTest> =>
  earTest(testFromHash(new URL(await page.getByLabel('Link to this test').inputValue()).hash)!)!;

async function bytesOf(download: Download): Promise<Uint8Array<ArrayBuffer>> {
  const parts: Buffer[] = [];
  for await (const part of await download.createReadStream()) parts.push(part as Buffer);
  return Uint8Array.from(Buffer.concat(parts));
}
async function downloaded(
  page: Page,
  button: string,
): Promise<{ name: string; bytes: Uint8Array<ArrayBuffer> }> {
  const [download] = await Promise.all([
    page.waitForEvent('download', PATIENCE),
    page.getByRole('button', { name: button, exact: true }).click(),
  ]);
  return { name: download.suggestedFilename(), bytes: await bytesOf(download) };
}
const places = ({ phrase }: Pick<PracticeTest, 'phrase'>) =>
  phrase.notes.map(({ startTicks, durationTicks, midi }) => [startTicks, durationTicks, midi]);

const played = makeTest({ kind: 'melody', level: 2, seed: 12, instrument: 'guitar' });
const second = makeTest({ kind: 'melody', level: 3, seed: 77, instrument: 'guitar' });

describe('a teacher’s phrase in the built app', () => {
  let app: ServedApp;
  beforeAll(async () => {
    app = await serveBuiltApp();
  }, 180_000);
  afterAll(() => app.close());

  it('is played in, corrected, saved, run as a test with a mark, and followed by the next of the list', async () => {
    const { page, context, problems } = await app.page();
    await remember(page);
    // One phrase is kept already.
    await page.goto(`${app.url}#/phrases`);
    await heading(page, 'My phrases');
    await page.locator('input[type="file"]').setInputFiles({
      name: 'a.musicxml',
      mimeType: 'application/xml',
      buffer: Buffer.from(testToMusicXml(second)),
    });
    await page.getByLabel('Name').waitFor(PATIENCE);
    await page.getByLabel('Name').fill('First of the list');
    await page.getByRole('button', { name: 'Save', exact: true }).click();
    await page.getByText('Saved.').first().waitFor(PATIENCE);

    const first = await testOf(page);

    await page.goto(`${app.url}#/phrases/play`);
    await heading(page, 'Play a phrase');
    await page.getByLabel('Crotchets a minute').fill(String(played.tempoBpm));
    const sheet = clickSheet(played.phrase.metre, 2, played.tempoBpm);
    const start = sheet.marks.find(({ label }) => label === 'takeStart')!;
    await arm(page, {
      ...(await playedTake(played)),
      lengthSec: sheet.durationSec,
      atSec: start.atSec - 0.3,
    });
    await page.getByRole('button', { name: 'Count me in' }).press('Enter');
    await heading(page, 'New phrase');
    await page.locator('.vf-notehead').first().waitFor(PATIENCE);
    expect((await testOf(page)).phrase.notes.map(({ startTicks, midi }) => [startTicks, midi])).toEqual(
      played.phrase.notes.map(({ startTicks, midi }) => [startTicks, midi]),
    );

    // The second note a tone higher, by keys; fewer seconds to find it.
    await page.getByRole('slider').focus();
    for (const key of ['Home', 'ArrowRight', 'ArrowUp', 'ArrowUp']) await page.keyboard.press(key);
    await page.getByLabel('Name').fill('Played in');
    await page.getByLabel('Times it is heard').fill('1');
    await page.getByRole('button', { name: 'Save', exact: true }).click();
    await page.getByText('Saved.').first().waitFor(PATIENCE);
    const test = await testOf(page);
    expect(test.phrase.notes[1]!.midi).toBe(played.phrase.notes[1]!.midi + 2);

    await arm(page, await playedTake(test));
    await page.getByRole('button', { name: 'Run as a test' }).click();
    await step(page, '(Key|Listen)');
    await page.waitForFunction(() => (window.__twobarPlayer?.started.length ?? 0) > 1, null, PATIENCE);
    const before = await page.locator('main dl').textContent();
    await page.keyboard.press('PageDown');
    await step(page, 'Find it');
    await page.keyboard.press('PageDown');
    await page.locator('button', { hasText: 'Next test' }).waitFor(PATIENCE);
    expect(Number(await page.locator('p.number').textContent())).toBeGreaterThanOrEqual(95);

    await page.keyboard.press('PageDown');
    await step(page, '(Key|Listen)');
    // The list goes round: after the last its first.
    const given = page.locator('main dl');
    expect(await given.locator('dd').last().textContent()).toBe(`${first.key.tonic} ${first.key.scale}`);
    expect(await given.textContent()).not.toBe(before);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('is written by pointing at the staff and the TAB, and by typing a fret', async () => {
    const { page, context, problems } = await app.page();
    await remember(page);
    await page.goto(`${app.url}#/phrases`);
    await page.getByRole('button', { name: 'Write a phrase' }).press('Enter');
    await page.locator('.vf-notehead').first().waitFor(PATIENCE);
    const marks = page.locator('svg.marks').first();
    const { width, height } = (await marks.boundingBox())!;
    const point = (across: number, down: number) =>
      marks.click({ position: { x: across * width, y: down * height } });
    const notes = async () =>
      (await testOf(page)).phrase.notes.map(({ startTicks, midi }) => [startTicks, midi] as const);
    const [first] = await notes();
    // Upper half of the picture: the staff; near its foot: the lowest string of the TAB.
    await point(0.6, 0.3);
    const [, high] = await notes();
    expect(high![0]).toBeGreaterThan(first![0]);
    await point(0.9, 0.9);
    const three = await notes();
    expect(three).toHaveLength(3);
    expect(three[2]![1]).toBe(40);
    // The chosen note at another height, then at another fret.
    await page.getByRole('slider').press('Home');
    await page.getByRole('slider').press('ArrowRight');
    const column = (await page.locator('rect[data-note="1"]').boundingBox())!;
    const top = (await marks.boundingBox())!.y;
    await page.mouse.click(column.x + 16, top + 0.3 * height + 15);
    expect((await notes())[1]![1]).toBeLessThan(high![1]);
    const placed = (await testOf(page)).phrase.notes[1]!;
    const open = placed.midi - placed.fret!;
    for (const figure of '12') await page.getByRole('slider').press(figure);
    expect((await notes())[1]![1]).toBe(open + 12);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('leaves as MusicXML, MIDI and WAV that other readers understand, and as a copied link', async () => {
    const { page, context, problems } = await app.page();
    await remember(page);
    await context.grantPermissions(['clipboard-read', 'clipboard-write']);
    await page.goto(`${app.url}#/phrases`);
    await heading(page, 'My phrases');
    await page.locator('input[type="file"]').setInputFiles({
      name: 'a.musicxml',
      mimeType: 'application/xml',
      buffer: Buffer.from(testToMusicXml(second)),
    });
    await page.getByLabel('Name').waitFor(PATIENCE);
    await page.getByLabel('Name').fill('Sent on');
    const test = await testOf(page);
    const asked = likeThe(test);

    const xml = await downloaded(page, 'MusicXML');
    expect(xml.name).toBe('sent-on.musicxml');
    const readXml = testFromMusicXml(xml.bytes, asked);
    expect(places(readXml)).toEqual(places(test));

    const midi = await downloaded(page, 'MIDI');
    expect(midi.name).toBe('sent-on.mid');
    const notes = read(midi.bytes)
      .tracks.flat()
      .flatMap((event) =>
        'subtype' in event && event.subtype === 'noteOn' && event.velocity > 0 ? [event] : [],
      );
    expect(notes.map(({ noteNumber }) => noteNumber)).toEqual(test.phrase.notes.map(({ midi }) => midi));
    expect(places(testFromMidi(midi.bytes, asked))).toEqual(places(test));

    const wav = await downloaded(page, 'Sound of the whole test (WAV)');
    expect(wav.name).toBe('sent-on.wav');
    const { channels, sampleRate } = readWav(wav.bytes);
    const samples = channels[0]!;
    const lasts = samples.length / sampleRate;
    expect(Math.abs(lasts - wholeSheet(test).durationSec)).toBeLessThan(0.1);
    expect(samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0)).toBeGreaterThan(0.1);
    const probed = ffprobe(wav.bytes);
    if (probed !== null) expect(Math.abs(probed - lasts)).toBeLessThan(0.01);

    await page.getByRole('button', { name: 'Copy link' }).click();
    await page.getByText('The link is copied').first().waitFor(PATIENCE);
    const copied = await page.evaluate(() => navigator.clipboard.readText());
    expect(testFromHash(new URL(copied).hash)).toEqual(test);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('is within reach of the Tab key on every page: each control once, in order, with its focus shown', async () => {
    const { page, context } = await app.page();
    await remember(page);
    for (const [path, title] of [
      ['phrases', 'My phrases'],
      ['phrases/play', 'Play a phrase'],
      ['phrases/levels', 'My levels'],
    ] as const) {
      await page.goto(`${app.url}#/${path}`);
      await heading(page, title);
      await page.getByText('One moment').waitFor({ ...PATIENCE, state: 'hidden' });
      const wanted = await page.evaluate(
        () =>
          [
            ...document.querySelectorAll<HTMLElement>(
              'main :is(a[href], button, input, select, textarea, summary, [tabindex="0"])',
            ),
          ].filter(
            (element) =>
              !element.matches(':disabled, [type="radio"]:not(:checked)') && element.checkVisibility(),
          ).length,
      );
      const reached = await page.evaluate(() => document.querySelectorAll('main *:focus').length);
      expect(reached).toBe(0);
      const seen = new Set<string>();
      const dim: string[] = [];
      for (let i = 0; i < wanted + 40; i++) {
        await page.keyboard.press('Tab');
        const at = await page.evaluate(() => {
          const element = document.activeElement as HTMLElement;
          if (element.tagName === 'MAIN' || !element.closest('main')) return null;
          const all = [...document.querySelectorAll('main *')];
          // What is drawn for a hidden input stands beside it.
          const drawn: (Element | null)[] = [element, element.nextElementSibling, element.parentElement];
          const shown = drawn.some((each) => each !== null && getComputedStyle(each).outlineStyle !== 'none');
          return { index: String(all.indexOf(element)), shown, html: element.outerHTML.slice(0, 80) };
        });
        if (!at) continue;
        seen.add(at.index);
        if (!at.shown) dim.push(`${path}: ${at.html}`);
      }
      expect([path, seen.size]).toEqual([path, wanted]);
      expect(dim).toEqual([]);
    }
    await context.close();
  });
});

/** Seconds that ffprobe finds in a WAV; null where it is not installed. */
function ffprobe(bytes: Uint8Array): number | null {
  const folder = mkdtempSync(join(tmpdir(), 'twobar-'));
  try {
    const path = join(folder, 'a.wav');
    writeFileSync(path, bytes);
    const asked = ['-v', 'error', '-show_entries', 'format=duration', '-of', 'csv=p=0', path];
    return Number(execFileSync('ffprobe', asked, { encoding: 'utf8' }).trim());
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw error;
  } finally {
    rmSync(folder, { recursive: true });
  }
}
