import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadNpmBank } from '../../audio-fixtures/banks/npm.ts';
import { playChords, RATE, type PlayedStrum } from '../../audio-fixtures/chords/index.ts';
import { speechInstalled, spoken } from '../../audio-fixtures/effects/spoken.ts';
import { babble } from '../../audio-fixtures/effects/voice.ts';
import { makeRandom } from '../../audio-fixtures/random.ts';
import { chordClasses, parseChord, quality, type ChordTest } from '../../src/music/chords/index.ts';
import { chordsAtSec, handlerOf, makeChords } from '../../src/tests-engine/index.ts';
import { chordSpoken } from '../../src/ui/chordSpoken.ts';
import type { Settings } from '../../src/ui/settings/types.ts';
import { arm } from '../support/simulated-player.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { violationsIn } from './axe.ts';
import { heading, look, onward, PATIENCE, remember, rowsOf } from './pages.ts';

const SEED = 20261130;
const LEAD_SEC = 0.3;
const TEMPO = 112;

const REQUEST = {
  families: ['open'] as const,
  voicing: 'shape' as const,
  tempoBpm: TEMPO,
  driven: false,
  seed: SEED,
};
const SETTINGS: Settings['chords'] = {
  how: 'named',
  families: ['open'],
  key: null,
  voicing: 'shape',
  count: 8,
  tempoBpm: TEMPO,
  over: 'click',
  driven: false,
};

/** MIDI numbers that the shape asked for sounds, lowest first. */
const notesOf = ({ chords, tuning }: ChordTest, i: number): number[] =>
  chords[i]!.frets!.flatMap((fret, string) => (fret === null ? [] : [tuning[string]! + fret]));
/** Pitch class of the chord's third, or of what is suspended in its place. */
function thirdOf({ chords }: ChordTest, i: number): number {
  const chord = parseChord(chords[i]!.symbol)!;
  return (chordClasses(chord)[0]! + quality(chord.quality).intervals[1]!) % 12;
}

/** Strums on real recorded strings, `LEAD_SEC` before beat 1 on. */
async function played(strums: readonly PlayedStrum[], durationSec: number) {
  const bank = await loadNpmBank('nylon');
  const late = strums.map((one) => ({
    ...one,
    atSec: one.atSec + LEAD_SEC,
    untilSec: one.untilSec + LEAD_SEC,
  }));
  const pcm = playChords(bank, late, { durationSec: durationSec + LEAD_SEC, seed: 3 });
  return { pcm, sampleRate: RATE };
}

declare global {
  interface Window {
    /** Names that a voice was asked to say, and lines of what was heard with the sound's time at which each came. */
    __said?: string[];
    __heard?: { readonly text: string; readonly atSec: number }[];
  }
}

/** A machine with a voice of its own, which writes down what it is to say. */
async function silentVoice(page: Page): Promise<void> {
  await page.addInitScript(() => {
    window.__said = [];
    const voice = { localService: true, lang: 'en-GB', name: 'A voice' } as SpeechSynthesisVoice;
    class Words {
      voice = null;
      lang = '';
      rate = 1;
      readonly text: string;
      constructor(text: string) {
        this.text = text;
      }
    }
    const speech = {
      getVoices: () => [voice],
      addEventListener: () => undefined,
      removeEventListener: () => undefined,
      cancel: () => undefined,
      speak: ({ text }: Words) => void window.__said!.push(text),
    };
    Object.defineProperty(window, 'speechSynthesis', { value: speech });
    Object.defineProperty(window, 'SpeechSynthesisUtterance', { value: Words });
  });
}

/** Writes down every line of what was heard as it comes to stand on the page. */
const watchHeard = (page: Page): Promise<void> =>
  page.evaluate(() => {
    window.__heard = [];
    let last = '';
    new MutationObserver(() => {
      const text = document.querySelector('.heard')?.textContent?.trim() ?? '';
      if (text && text !== last)
        window.__heard!.push({ text, atSec: window.__twobarPlayer!.context!.currentTime });
      last = text;
    }).observe(document.body, { subtree: true, childList: true, characterData: true });
  });

describe('chords in the built app, strummed on recorded strings at the microphone', () => {
  let app: ServedApp;
  beforeAll(async () => {
    app = await serveBuiltApp();
  }, 180_000);
  afterAll(() => app.close());

  async function ready(
    chords: Partial<Settings['chords']>,
    manner: Settings['manner'] = 'strict',
    before: (page: Page) => Promise<void> = async () => undefined,
  ): Promise<{ page: Page; problems: string[]; close(): Promise<void> }> {
    const { page, context, problems } = await app.page();
    // Each list is drawn from a fresh seed: here always the same one.
    await page.addInitScript((seed) => {
      const random = crypto.getRandomValues.bind(crypto);
      crypto.getRandomValues = ((array: ArrayBufferView) =>
        array instanceof Uint32Array && array.length === 1
          ? (array.fill(seed), array)
          : random(array as Uint8Array<ArrayBuffer>)) as typeof crypto.getRandomValues;
    }, SEED);
    await before(page);
    await remember(page, { output: 'speakers', manner, chords: { ...SETTINGS, ...chords } });
    await page.goto(`${app.url}#/chords`);
    await heading(page, 'Chords');
    await look(page, 'chords-choice');
    return { page, problems, close: () => context.close() };
  }

  /** Has it played with the take's own sheet, and goes on from the page to the end of the take. */
  async function take(page: Page, test: ChordTest, pcm: Float32Array<ArrayBuffer>): Promise<void> {
    const sheet = handlerOf(test).sheet(test, 'performance', {});
    const start = sheet.marks.find(({ label }) => label === 'takeStart')!;
    await arm(page, {
      ...{ pcm, sampleRate: RATE, lengthSec: sheet.durationSec, atSec: start.atSec - LEAD_SEC },
      roundTripSec: 'reported',
    });
    await onward(page);
    await page.locator('progress').first().waitFor(PATIENCE);
    await onward(page);
  }
  /** "wrong" … of each row of the result, in order. */
  const rows = (page: Page): Promise<string[]> =>
    page
      .getByRole('list', { name: 'The chords that were asked for' })
      .getByRole('listitem')
      .evaluateAll((all) => all.map((row) => (row as HTMLElement).innerText.replace(/\s+/g, ' ').trim()));
  const marked = (page: Page) => page.locator('p.number').waitFor(PATIENCE);

  it('tells right ones from every fault, one chord named after another', async () => {
    const test = makeChords({ ...REQUEST, how: 'named', count: 8 });
    const at = chordsAtSec(test);
    const ring = (i: number, notes: readonly number[]): PlayedStrum => ({
      notes,
      atSec: at[i]! + 0.9,
      untilSec: at[i]! + 3.4,
    });
    const without = (i: number, pc: number): number[] => notesOf(test, i).filter((note) => note % 12 !== pc);
    // C sharp major belongs to no open chord of the list.
    const stranger = [49, 56, 61, 65, 68];
    const scale = [48, 50, 52, 53, 55, 57, 59, 60].map((note, k): PlayedStrum => ({
      notes: [note],
      atSec: at[6]! + 0.5 + 0.35 * k,
      untilSec: at[6]! + 0.5 + 0.35 * (k + 1) + (k === 7 ? 0.4 : 0),
    }));
    const strums = [
      ring(0, notesOf(test, 0)),
      ring(1, without(1, thirdOf(test, 1))),
      ring(2, stranger),
      ring(3, notesOf(test, 3)),
      // The fourth of a list stays unstruck; of the fifth only its lowest string sounds.
      ring(5, [notesOf(test, 5)[0]!]),
      ...scale,
      // The root's strings muted.
      ring(7, without(7, notesOf(test, 7)[0]! % 12)),
    ];
    const { page, problems, close } = await ready({});
    const { pcm } = await played(strums, at[7]! + 4);
    await take(page, test, pcm);
    await page.locator('.now .name').waitFor(PATIENCE);
    expect(await violationsIn(page, 'take of chords')).toEqual([]);
    await look(page, 'chords-named');
    // As in an exam nothing shows how a chord is fingered.
    expect(await page.locator('[role="img"]').count()).toBe(0);
    await marked(page);
    const told = (await rows(page)).filter((row) => !row.includes('one strum too many'));
    expect(told).toHaveLength(8);
    const verdicts = told.map((row) => /right|wrong|can’t tell|not played/.exec(row)![0]);
    expect(verdicts).toEqual(['right', 'wrong', 'wrong', 'right', 'not played', 'wrong', 'wrong', 'wrong']);
    expect(told[1]).toMatch(/without [A-G]/);
    // Afterwards the shapes of what went wrong are shown, and what sound cannot know is said.
    expect(await page.locator('[role="img"] svg').count()).toBeGreaterThanOrEqual(4);
    await page.getByText('Sound cannot tell which string').first().waitFor(PATIENCE);
    expect(await violationsIn(page, 'result of chords')).toEqual([]);
    await look(page, 'chords-result');
    const [attempt] = await rowsOf<{ test: ChordTest; take: { strums: unknown[] } }>(page, 'attempts');
    expect(attempt!.test).toEqual(test);
    expect(attempt!.take.strums.length).toBeGreaterThanOrEqual(7);
    expect(problems).toEqual([]);
    await close();
  });

  it('names the change that came late in a progression to a click, and shows it in progress', async () => {
    const test = makeChords({ ...REQUEST, how: 'progression', count: 4 });
    const at = chordsAtSec(test);
    const LATE_SEC = 0.24;
    const strums = test.chords.map((_, i): PlayedStrum => {
      const atSec = at[i]! + (i === 2 ? LATE_SEC : 0);
      return { notes: notesOf(test, i), atSec, untilSec: (at[i + 1] ?? at[i]! + 2.1) - 0.06 };
    });
    const { page, problems, close } = await ready({ how: 'progression', count: 4 }, 'relaxed');
    const { pcm } = await played(strums, at[3]! + 3);
    await page.getByRole('button', { name: 'Start' }).waitFor(PATIENCE);
    await look(page, 'chords-ready');
    await take(page, test, pcm);
    await look(page, 'chords-in-time');
    await marked(page);
    const told = await rows(page);
    expect(told.map((row) => /right|wrong|can’t tell|not played|one strum/.exec(row)![0])).toEqual([
      'right',
      'right',
      'right',
      'right',
    ]);
    expect(told.map((row) => row.includes('ms late'))).toEqual([false, false, true, false]);
    const ms = Number(/(\d+) ms late/.exec(told[2]!)![1]);
    expect(Math.abs(ms - 1000 * LATE_SEC)).toBeLessThanOrEqual(25);
    await page.getByText('The change from').first().waitFor(PATIENCE);
    await page.goto(`${app.url}#/progress`);
    await heading(page, 'Chord changes');
    expect(await page.getByText(/→/).count()).toBeGreaterThan(0);
    expect(await violationsIn(page, 'progress of chords')).toEqual([]);
    expect(problems).toEqual([]);
    await close();
  });

  it('tells right ones from every fault in time, to a click', async () => {
    const test = makeChords({ ...REQUEST, how: 'progression', count: 8 });
    const at = chordsAtSec(test);
    const on = (i: number, notes: readonly number[]): PlayedStrum => ({
      notes,
      atSec: at[i]!,
      untilSec: (at[i + 1] ?? at[i]! + 2.1) - 0.06,
    });
    const without = (i: number, pc: number): number[] => notesOf(test, i).filter((note) => note % 12 !== pc);
    const run = [48, 50, 52, 53].map((note, k): PlayedStrum => ({
      notes: [note],
      atSec: at[6]! + 0.5 * k,
      untilSec: at[6]! + 0.5 * (k + 1),
    }));
    const strums = [
      on(0, notesOf(test, 0)),
      on(1, without(1, thirdOf(test, 1))),
      // C sharp major belongs to no open chord of the list.
      on(2, [49, 56, 61, 65, 68]),
      on(3, notesOf(test, 3)),
      // The fifth stays unstruck; of the sixth only its lowest string sounds.
      on(5, [notesOf(test, 5)[0]!]),
      ...run,
      // The root's strings muted.
      on(7, without(7, notesOf(test, 7)[0]! % 12)),
    ];
    const { page, problems, close } = await ready({ how: 'progression', count: 8 });
    const { pcm } = await played(strums, at[7]! + 3);
    await take(page, test, pcm);
    await marked(page);
    const told = (await rows(page)).filter((row) => !row.includes('one strum too many'));
    const verdicts = told.map((row) => /right|wrong|can’t tell|not played/.exec(row)![0]);
    expect(verdicts).toEqual(['right', 'wrong', 'wrong', 'right', 'not played', 'wrong', 'wrong', 'wrong']);
    expect(told[1]).toMatch(/without [A-G]/);
    expect(problems).toEqual([]);
    await close();
  });

  it('says each name, and with help what the stroke was while it still rings', async () => {
    const test = makeChords({ ...REQUEST, how: 'named', count: 4 });
    const at = chordsAtSec(test);
    const notes = [
      notesOf(test, 0),
      notesOf(test, 1).filter((note) => note % 12 !== thirdOf(test, 1)),
      [49, 56, 61, 65, 68],
      notesOf(test, 3),
    ];
    const strums = notes.map((own, i): PlayedStrum => ({
      notes: own,
      atSec: at[i]! + 1.2,
      untilSec: at[i]! + 3.4,
    }));
    const { page, problems, close } = await ready({ count: 4, said: true }, 'relaxed', silentVoice);
    const { pcm } = await played(strums, at[3]! + 4);
    await page.getByRole('button', { name: 'Start' }).waitFor(PATIENCE);
    await watchHeard(page);
    await take(page, test, pcm);
    await marked(page);
    expect(await page.evaluate(() => window.__said)).toEqual(
      test.chords.map(({ symbol }) => chordSpoken(symbol)),
    );
    // Each line as it first stood there, on the clock of the sound.
    const sheet = handlerOf(test).sheet(test, 'performance', {});
    const beatOne = sheet.marks.find(({ label }) => label === 'takeStart')!.atSec;
    const { lines, tripSec, startSec } = await page.evaluate((lengthSec) => {
      const { context, started } = window.__twobarPlayer!;
      const sound = started.findLast((one) => Math.abs(one.lengthSec - lengthSec) < 0.005)!;
      const tripSec = context!.baseLatency + (context!.outputLatency || 0) + 0.033;
      return { lines: window.__heard!, tripSec, startSec: sound.startSec - sound.offsetSec };
    }, sheet.durationSec);
    expect(lines.map(({ text }) => /right|wrong|can’t tell/.exec(text)![0])).toEqual([
      'right',
      'wrong',
      'wrong',
      'right',
    ]);
    expect(lines[1]!.text).toMatch(/without [A-G]/);
    const delays = lines.map((line, i) => line.atSec - (startSec + beatOne + strums[i]!.atSec + tripSec));
    const ms = delays.map((sec) => Math.round(1000 * sec)).join(', ');
    process.stdout.write(`told ${ms} ms after the first string\n`);
    expect(problems).toEqual([]);
    await close();
  });

  it('does not mark talk or silence: they are not heard, and say why', async () => {
    const test = makeChords({ ...REQUEST, how: 'progression', count: 4 });
    const seconds = 10;
    const random = makeRandom(5);
    const talk = speechInstalled() ? spoken(RATE, random) : babble(seconds * RATE, RATE, random);
    const pcm = Float32Array.from({ length: seconds * RATE }, (_, i) => 0.5 * talk[i % talk.length]!);
    for (const [sound, why] of [
      [pcm, /speech|voice|instrument/i],
      [new Float32Array(seconds * RATE), /nothing|silence|quiet/i],
    ] as const) {
      const { page, close } = await ready({ how: 'progression', count: 4 });
      await take(page, test, sound);
      await page.getByText('Not marked').first().waitFor(PATIENCE);
      expect(await page.locator('.main').innerText()).toMatch(why);
      expect(await page.locator('p.number').count()).toBe(0);
      await close();
    }
  });
});
