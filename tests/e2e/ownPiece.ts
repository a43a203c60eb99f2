import type { Page } from 'playwright-core';
import { loadNpmBank } from '../../audio-fixtures/banks/npm.ts';
import { perform } from '../../audio-fixtures/player.ts';
import { makeRandom } from '../../audio-fixtures/random.ts';
import { testToMusicXml, writeWav } from '../../src/exchange/index.ts';
import { sec } from '../../src/music/units.ts';
import { makeTest } from '../../src/tests-engine/index.ts';
import { nodeRenderer } from '../support/node-renderer.ts';
import type { MadePiece } from '../support/piece.ts';
import { tabTo } from './keyboard.ts';
import { PATIENCE } from './pages.ts';

/** A piece of the player's own: its files, how they are brought, and its part played on recorded strings. */
const SAMPLE_RATE = 48_000;
/** Where bar 1 begins in the file. */
export const BAR_ONE_SEC = 1;
/** The part begins so long into the sound: a recorded attack may start a little early. */
export const PART_LEAD_SEC = 0.3;
export const PIECE_METRE = { beats: 4, beatUnit: 4, grouping: [2, 2] } as const;

export interface PieceFiles {
  /** What its recording is called, without an ending. */
  readonly name: string;
  readonly xml: Buffer;
  readonly wav: Buffer;
}

/** The part as a file of notes, and the backing as a file of sound. */
export async function pieceFiles(piece: MadePiece, name = 'own_piece'): Promise<PieceFiles> {
  const { tempoBpm, barSecs, notes } = piece;
  const plain = makeTest({ kind: 'melody', level: 1, seed: 1, instrument: 'guitar', tempoBpm });
  const written = {
    ...plain,
    backing: { arranger: 2 as const, chords: [] },
    swing: 0.5,
    key: { tonic: 'E', scale: 'minor' },
    phrase: { metre: PIECE_METRE, bars: barSecs.length - 1, notes },
  };
  const durationSec = sec(BAR_ONE_SEC + barSecs.at(-1)! + 1);
  const [track] = await nodeRenderer().render(
    [{ durationSec, cues: [...piece.cues(BAR_ONE_SEC)], marks: [] }],
    { sampleRate: SAMPLE_RATE },
  );
  return {
    name,
    xml: Buffer.from(testToMusicXml(written, 'Own piece')),
    wav: Buffer.from(writeWav(track!.samples, SAMPLE_RATE)),
  };
}

/** Opens the browser's own chooser by keyboard, and chooses this file there. */
async function choose(
  page: Page,
  label: string,
  file: { readonly name: string; readonly mimeType: string; readonly buffer: Buffer },
): Promise<void> {
  // Asked for before the way there: it takes the browser a moment to hand its chooser over.
  const asked = page.waitForEvent('filechooser', PATIENCE);
  await tabTo(page, label);
  await page.keyboard.press('Enter');
  await (await asked).setFiles(file);
}

/** Chooses the backing on the page of pieces, until it is known where bar 1 begins. */
export async function bringBacking(page: Page, { name, wav }: PieceFiles): Promise<void> {
  await choose(page, 'Choose the backing', { name: `${name}.wav`, mimeType: 'audio/wav', buffer: wav });
  await page.getByText(/^Bar 1 begins at/).waitFor(PATIENCE);
}
/** Adds the notes to it. */
export async function bringNotes(page: Page, { xml }: PieceFiles): Promise<void> {
  await choose(page, 'Add the notes', { name: 'own.musicxml', mimeType: 'application/xml', buffer: xml });
  await page.getByText('Every note and bar will be marked.').waitFor(PATIENCE);
}

/** Bars `fromBar` up to `toBar` of the part, from `PART_LEAD_SEC` on; `wrongBar` a semitone high. */
export async function playedPart(
  { target, barSecs }: MadePiece,
  { fromBar = 0, toBar = barSecs.length - 1, wrongBar = -1 } = {},
) {
  const bank = await loadNpmBank('electric');
  const from = barSecs[fromBar]!;
  const notes = target.filter(({ bar }) => bar >= fromBar && bar < toBar);
  const plan = notes.map(({ onsetSec, midi, bar }, i) => ({
    onsetSec: PART_LEAD_SEC + onsetSec - from,
    durationSec: Math.min(1, 0.9 * ((notes[i + 1]?.onsetSec ?? onsetSec + 0.6) - onsetSec)),
    midi: midi + (bar === wrongBar ? 1 : 0),
    levelDb: 0,
  }));
  const durationSec = PART_LEAD_SEC + barSecs[toBar]! - from + 1;
  const { signal } = perform(plan, bank, { sampleRate: SAMPLE_RATE, durationSec, random: makeRandom(7) });
  return { pcm: Float32Array.from(signal), sampleRate: SAMPLE_RATE };
}
