import type { Page } from 'playwright-core';
import type { Settings } from '../../src/ui/settings/types.ts';
import { homeworkFragment } from '../../src/store/index.ts';
import { makeTest } from '../../src/tests-engine/index.ts';
import type { ServedApp } from '../e2e/app.ts';
import { PATIENCE, sounding, soundsSoFar } from '../e2e/pages.ts';
import { playedTake } from '../e2e/takes.ts';
import { arm } from '../support/simulated-player.ts';
import { ID } from '../store/support/backup.ts';
import { HOUSE_STUDENT, restoreHouse } from './house.ts';
import { sitting } from './sitting.ts';

/**
 * A walk past every screen of the app, by addresses, keys and the page's own structure alone: it reads no word, so
 * that it goes the same way in any language.
 */
export interface Stop {
  readonly name: string;
  readonly page: Page;
  /** It stands for some seconds only: look and go on. */
  readonly brief?: true;
}

/** Seeds of the walk: a melody of two bars, one of four, and a rhythm. */
const MELODY = { kind: 'melody', level: 2, seed: 20261124 } as const;
const LONG = { kind: 'melody', level: 8, seed: 3 } as const;
const RHYTHM = { kind: 'rhythm', level: 3, seed: 4711 } as const;

/** The parts of the walk, and how the names of their stops begin. */
export const PARTS = { first: /^[01]/, house: /^[2-4]/, tests: /^[56]/, sitting: /^[78]/ } as const;
export type Part = keyof typeof PARTS;

export interface Walk {
  readonly viewport: { readonly width: number; readonly height: number };
  /** What the app remembers when it opens: a language, say. */
  readonly settings?: Partial<Settings> & Readonly<Record<string, unknown>>;
  /** Only these parts of the walk. */
  readonly parts?: readonly Part[];
}

const onward = (page: Page): Promise<void> => page.keyboard.press('PageDown');
const back = (page: Page): Promise<void> => page.keyboard.press('PageUp');
const title = (page: Page): Promise<void> => page.locator('main h1').first().waitFor(PATIENCE);
const music = (page: Page): Promise<void> => page.locator('main .engraved svg').first().waitFor(PATIENCE);
/** All eight students with what they did, which comes row by row. */
const rows = async (page: Page): Promise<void> => {
  await page.locator('main tbody tr').nth(7).waitFor(PATIENCE);
  await page
    .locator('main tbody td:nth-child(6):empty')
    .first()
    .waitFor({ ...PATIENCE, state: 'detached' });
};
const written = async (page: Page): Promise<void> => {
  await page.locator('main .ways p > button').first().click();
  await music(page);
};
/** What is known of a take: its stave, its chart or its list. */
const marked = (page: Page): Promise<void> =>
  page.locator('main .engraved svg, main ol, main [role="img"]').first().waitFor(PATIENCE);
/** An own list is begun on the page of scales or chords, with all of one kind in it. */
async function ownList(page: Page): Promise<void> {
  await page.locator('main .tools button').first().click(PATIENCE);
  await page.locator('main .rename').waitFor(PATIENCE);
  await page.locator('main .add button, main .does button').last().click(PATIENCE);
  await page.locator('main li').first().waitFor(PATIENCE);
}
async function putTogether(page: Page): Promise<void> {
  await page.locator('main section > div > button').last().click(PATIENCE);
  await page.waitForFunction(() => location.hash.startsWith('#/sitting/setup/'), null, PATIENCE);
  await title(page);
}
/** The current step is the one at this place, from 1. */
const stepAt = (page: Page, place: number): Promise<void> =>
  page.locator(`ol > li:nth-child(${place})[aria-current="step"]`).waitFor(PATIENCE);
const result = (page: Page): Promise<void> => page.locator('.result .go button').first().waitFor(PATIENCE);

/** Another heading than `before` stands there. */
async function turned(page: Page, go: () => Promise<void>): Promise<void> {
  const before = await page.locator('main h1').first().innerText();
  await go();
  await page.waitForFunction(
    (old) => (document.querySelector('main h1') as HTMLElement | null)?.innerText !== old,
    before,
    PATIENCE,
  );
}

/** Every screen, one after the other; look at each before asking for the next. */
export async function* tour(
  app: ServedApp,
  { viewport, settings = {}, parts = Object.keys(PARTS) as Part[] }: Walk,
): AsyncGenerator<Stop> {
  const walks = { first: firstVisit, house, tests, sitting: whole };
  for (const part of parts) yield* walks[part](app, viewport, settings);
}

async function opened(
  app: ServedApp,
  viewport: Walk['viewport'],
  settings: Walk['settings'],
  checked: boolean,
): Promise<{ page: Page; close: () => Promise<void> }> {
  const { page, context } = await app.page({ viewport, hasTouch: viewport.width < 900 });
  await page.addInitScript(
    (kept) => localStorage.getItem('twobar.settings') ?? localStorage.setItem('twobar.settings', kept),
    JSON.stringify({ checked, manner: 'relaxed', level: 2, ...settings }),
  );
  return { page, close: () => context.close() };
}

/** A sitting, station after station. */
async function* whole(
  app: ServedApp,
  viewport: Walk['viewport'],
  settings: Walk['settings'],
): AsyncGenerator<Stop> {
  const { page, close } = await opened(app, viewport, settings, true);
  yield* sitting(page, app);
  await close();
}

/** Nothing is known yet: the first page, homework from a link, the sound check. */
async function* firstVisit(
  app: ServedApp,
  viewport: Walk['viewport'],
  settings: Walk['settings'],
): AsyncGenerator<Stop> {
  const { page, close } = await opened(app, viewport, settings, false);
  await page.goto(app.url);
  await title(page);
  yield { name: '01 first page', page };
  await page.goto(`${app.url}#/check`);
  await title(page);
  for (const name of ['02 caution', '03 instrument', '04 microphone']) {
    yield { name, page };
    if (name < '04') await turned(page, () => onward(page));
  }
  await onward(page);
  await page.locator('header .on').waitFor(PATIENCE);
  yield { name: '05 microphone on', page };
  for (const name of ['06 level', '07 tuning', '08 sound out', '09 delay']) {
    await turned(page, () => onward(page));
    yield { name, page };
  }
  const made = [11, 12, 13].map((seed, i) =>
    makeTest({ kind: i % 2 ? 'rhythm' : 'melody', level: 2, seed, instrument: 'guitar' }),
  );
  const fragment = await homeworkFragment(
    {
      ...{ id: 'a'.repeat(32), studentId: 'b'.repeat(32), createdAtMs: 1, manner: 'relaxed' as const },
      ...{ tests: made, dueOn: '2026-12-05', text: 'Slowly, and sing it first.' },
    },
    { there: 85, close: 65 },
  );
  await page.goto(`${app.url}#homework=${fragment}`);
  await page.locator('main ol button, main li button').first().waitFor(PATIENCE);
  yield { name: '10 homework', page };
  await page.goto(`${app.url}#homework=${fragment.slice(0, -9)}`);
  await page.locator('main [role="alert"]').waitFor(PATIENCE);
  yield { name: '11 homework cut off', page };
  await close();
}

/** A record of eight students: the desk and everything behind it. */
async function* house(
  app: ServedApp,
  viewport: Walk['viewport'],
  settings: Walk['settings'],
): AsyncGenerator<Stop> {
  const { page, close } = await opened(app, viewport, settings, true);
  const attempts = await restoreHouse(page, app);
  yield { name: '20 data', page };
  await page.locator('header select').selectOption(HOUSE_STUDENT);
  const student = `#/teacher/${HOUSE_STUDENT}`;
  const rhythm = attempts.find(({ answer }) => answer !== null)!;
  const long = attempts.find(
    ({ test }) => test.kind === 'melody' && 'phrase' in test && test.phrase.bars === 4,
  )!;
  const others = attempts.filter(({ test }) => !('question' in test));
  const melody = attempts.find(
    ({ id, test, mark }) => id !== long.id && test.kind === 'melody' && mark.mark !== null && mark.mark < 85,
  )!;
  for (const [name, hash, there] of [
    ['21 start', '#/', title],
    ['22 practice', '#/practice', (at: Page) => at.locator('main section').nth(1).waitFor(PATIENCE)],
    ['23 sight reading', '#/read', title],
    [
      '24 progress',
      `#/progress/${HOUSE_STUDENT}`,
      (at: Page) => at.locator('main h2').first().waitFor(PATIENCE),
    ],
    ['25 desk', '#/teacher', rows],
    ['26 student', student, (at: Page) => at.locator('main .homework').first().waitFor(PATIENCE)],
    ['27 attempt', `${student}/${melody.id}`, music],
    ['28 attempt of four bars', `${student}/${long.id}`, music],
    ['29 attempt of a rhythm', `${student}/${rhythm.id}`, music],
    ...others.map(
      ({ id, test }, i) => [`29${'abcd'[i]} attempt, ${test.kind}`, `${student}/${id}`, marked] as const,
    ),
    ['30 lesson sheet', `${student}/sheet`, music],
    ['31 blind', '#/teacher/blind', music],
    ['32 who plays', '#/who', title],
    ['33 my phrases', '#/phrases', title],
    ['34 new phrase', '#/phrases', written],
    ['35 play a phrase', '#/phrases/play', title],
    ['36 own levels', '#/phrases/levels', title],
    ['37 no homework', '#/homework', title],
    ['38 about', '#/about', title],
    ['39 licences', '#/licences', (at: Page) => at.locator('main h2').nth(1).waitFor(PATIENCE)],
    ['40 no such page', '#/nowhere', title],
    ['41 start, linked', '#/start/rhythm/3/7', title],
    ['42 settings', '#/settings', title],
    ['43 scales', '#/scales', title],
    ['43a own scales', '#/scales', ownList],
    ['44 chords', '#/chords', title],
    ['44a own chords', '#/chords', ownList],
    ['45 improvising', '#/improvise', title],
    ['47 piece', '#/piece', title],
    ['48 questions', '#/questions', title],
    ['49 whole sitting', '#/sitting', title],
    [
      '49a report of a sitting',
      `#/sitting/${ID(6)}`,
      (at: Page) => at.locator('main li').nth(1).waitFor(PATIENCE),
    ],
    ['49b plan', '#/plan', title],
    ['49c sitting, put together', '#/sitting', putTogether],
    ['49d plan to a sitting', '#/plan', (at: Page) => at.locator('main h2').first().waitFor(PATIENCE)],
    ['49e studio', '#/studio', (at: Page) => at.locator('main details summary').click(PATIENCE)],
    [
      '46 page for parents',
      `${student}/report`,
      (at: Page) => at.locator('main article, main h2').first().waitFor(PATIENCE),
    ],
  ] as const) {
    await page.goto(`${app.url}${hash}`);
    await there(page);
    yield { name, page };
  }
  await close();
}

/** Tests as they run, and their results. */
async function* tests(
  app: ServedApp,
  viewport: Walk['viewport'],
  settings: Walk['settings'],
): AsyncGenerator<Stop> {
  const { page, close } = await opened(app, viewport, settings, true);
  const begin = async ({ kind, level, seed }: typeof MELODY | typeof LONG | typeof RHYTHM): Promise<void> => {
    await page.goto(`${app.url}#/start/${kind}/${level}/${seed}`);
    await title(page);
    const before = await soundsSoFar(page);
    await onward(page);
    await sounding(page, before);
  };
  const made = (one: typeof MELODY | typeof LONG | typeof RHYTHM) =>
    makeTest({ ...one, instrument: 'guitar' });
  await begin(MELODY);
  await stepAt(page, 1);
  yield { name: '50 key', page, brief: true };
  await stepAt(page, 2);
  yield { name: '51 listen', page };
  await onward(page);
  await stepAt(page, 4);
  yield { name: '52 find it', page };
  await arm(page, await playedTake(made(MELODY), { 2: { higher: 2 }, 5: { laterSec: 0.18 } }));
  await onward(page);
  await stepAt(page, 5);
  await page.locator('.count').waitFor(PATIENCE);
  yield { name: '53 count', page, brief: true };
  await stepAt(page, 6);
  yield { name: '54 play', page, brief: true };
  await result(page);
  await music(page);
  yield { name: '55 result', page };
  await page.locator('details summary').last().click();
  await page.locator('details summary').first().click();
  yield { name: '56 result unfolded', page };
  await back(page);
  await stepAt(page, 2);
  await onward(page);
  await stepAt(page, 4);
  await onward(page);
  await stepAt(page, 6);
  await result(page);
  yield { name: '57 not marked', page };
  // Four bars, heard with the window of practice open.
  await begin(LONG);
  await onward(page);
  await stepAt(page, 4);
  await arm(
    page,
    await playedTake(made(LONG), { 3: { higher: -1 }, 7: { laterSec: 0.2 }, 9: { laterSec: -0.12 } }),
  );
  await onward(page);
  await stepAt(page, 6);
  yield { name: '58 play four bars', page, brief: true };
  await result(page);
  await music(page);
  yield { name: '59 result of four bars', page };
  await begin(RHYTHM);
  await onward(page);
  await stepAt(page, 4);
  await arm(page, await playedTake(made(RHYTHM)));
  await onward(page);
  await page.locator('.question .engraved svg').nth(1).waitFor(PATIENCE);
  yield { name: '60 question', page };
  await onward(page);
  yield { name: '61 question, chosen', page };
  await onward(page);
  await result(page);
  await music(page);
  yield { name: '62 result of a rhythm', page };
  await page.goto(`${app.url}#/read`);
  await title(page);
  await onward(page);
  await page.locator('.stage .engraved svg').first().waitFor(PATIENCE);
  yield { name: '63 reading, prepare', page };
  await onward(page);
  await stepAt(page, 2);
  yield { name: '64 reading, count', page, brief: true };
  await stepAt(page, 3);
  yield { name: '65 reading, play', page, brief: true };
  // The other stations while they are prepared, with the music, the name or the chart in view.
  for (const [name, hash] of [
    ['66 scales, prepare', '#/scales'],
    ['67 chords, prepare', '#/chords'],
    ['68 improvising, prepare', '#/improvise'],
  ] as const) {
    await page.goto(`${app.url}${hash}`);
    await title(page);
    await onward(page);
    await page.locator('li[aria-current="step"]').waitFor(PATIENCE);
    await page.locator('[role="timer"]').waitFor(PATIENCE);
    yield { name, page, brief: true };
  }
  await close();
}
