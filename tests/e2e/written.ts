import type { Page } from 'playwright-core';
import { loadNpmBank } from '../../audio-fixtures/banks/npm.ts';
import { perform } from '../../audio-fixtures/player.ts';
import { makeRandom } from '../../audio-fixtures/random.ts';
import type { ReadingTask, ScaleTask } from '../../src/music/task.ts';
import { performedSec } from '../../src/music/time.ts';
import { handlerOf } from '../../src/tests-engine/index.ts';
import { arm, passing, PATH_SEC, playNow } from '../support/simulated-player.ts';
import { PATIENCE } from './pages.ts';

/** Players of written notes, of real recorded ones, and what the pages of such tasks say. */
export type WrittenPage = ReadingTask | ScaleTask;

const SAMPLE_RATE = 48_000;
/** The recorded attack may start a little before its note is due. */
const LEAD_SEC = 0.3;

export interface Struck {
  /** When it is struck, seconds from beat 1 of the take. */
  readonly atSec: number;
  readonly lengthSec: number;
  readonly midi: number;
}
export interface Sounding {
  readonly pcm: Float32Array<ArrayBuffer>;
  readonly sampleRate: number;
  readonly durationSec: number;
}

/** The notes as they are written, each nine tenths of its length. */
export const asWritten = (task: WrittenPage): Struck[] =>
  task.phrase.notes.map((note) => {
    const atSec = performedSec(note.startTicks, task);
    const lengthSec = 0.9 * (performedSec(note.startTicks + note.durationTicks, task) - atSec);
    return { atSec, lengthSec, midi: note.midi };
  });

/** These notes of the electric guitar, the time 0 of the take `leadSec` into the sound. */
export async function sounding(notes: readonly Struck[], leadSec: number): Promise<Sounding> {
  const bank = await loadNpmBank('electric');
  const plan = notes.map(({ atSec, lengthSec, midi }) => ({
    ...{ onsetSec: leadSec + atSec, durationSec: lengthSec, midi, levelDb: 0 },
  }));
  const last = plan.at(-1)!;
  const durationSec = last.onsetSec + last.durationSec + 1;
  const { signal } = perform(plan, bank, { sampleRate: SAMPLE_RATE, durationSec, random: makeRandom(7) });
  return { pcm: Float32Array.from(signal), sampleRate: SAMPLE_RATE, durationSec };
}

/** Will be played to the click of the task. @param wayOfSec how much later than sent out the player hears it; absent: as the app must assume */
export async function playToClick(
  page: Page,
  task: WrittenPage,
  notes: readonly Struck[],
  wayOfSec?: number,
): Promise<void> {
  const sheet = handlerOf(task).sheet(task as never, 'performance', {});
  const start = sheet.marks.find(({ label }) => label === 'takeStart')!;
  const { pcm, sampleRate } = await sounding(notes, LEAD_SEC);
  await arm(page, {
    ...{ pcm, sampleRate, lengthSec: sheet.durationSec, atSec: start.atSec - LEAD_SEC },
    roundTripSec: wayOfSec === undefined ? 'reported' : wayOfSec + PATH_SEC,
  });
}

/** Plays at once, and ends the take with the foot when the last note is over. */
export async function playWhenReady(page: Page, notes: readonly Struck[], leadSec = 1): Promise<void> {
  const { pcm, sampleRate, durationSec } = await sounding(notes, leadSec);
  await playNow(page, pcm, sampleRate);
  await passing(page, durationSec);
  await page.keyboard.press('PageDown');
}

/** Until this very word is the current step. */
export const step = (page: Page, word: string): Promise<void> =>
  page.locator('li[aria-current="step"]', { hasText: new RegExp(`^\\s*${word}\\s*$`) }).waitFor(PATIENCE);
/** The mark on the result's page, once it is there. */
export async function markShown(page: Page): Promise<number> {
  await page.locator('p.number').waitFor(PATIENCE);
  return Number(await page.locator('p.number').textContent());
}
