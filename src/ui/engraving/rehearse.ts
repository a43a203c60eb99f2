import { bpm, midi, ticks } from '../../music/units.ts';
import type { Piece } from './layout.ts';
import { loadEngraver } from './load.ts';

/** A bar of what bars hold: quavers under a beam, an accidental, a dot, a rest, a tie. */
const NOTES = [
  { at: 0, lasts: 240, note: 55, spelling: 'G3', string: 3, fret: 0 },
  { at: 240, lasts: 240, note: 58, spelling: 'Bb3', string: 3, fret: 3 },
  { at: 480, lasts: 720, note: 60, spelling: 'C4', string: 2, fret: 1 },
  { at: 1440, lasts: 840, note: 62, spelling: 'D4', string: 2, fret: 3 },
];
const PIECE: Piece = {
  phrase: {
    metre: { beats: 4, beatUnit: 4, grouping: [1, 1, 1, 1] },
    bars: 2,
    notes: NOTES.map(({ at, lasts, note, spelling, string, fret }) => ({
      startTicks: ticks(at),
      durationTicks: ticks(lasts),
      midi: midi(note),
      ...{ spelling, string, fret },
    })),
  },
  key: { tonic: 'G', scale: 'major' },
  instrument: 'guitar',
  strings: 6,
  tempoBpm: bpm(90),
  swing: 0.5,
  swingWords: '',
  ...{ signs: true, heading: true, tab: true },
};

/**
 * Draws a line of music that nobody sees: the first drawing takes three times as long as the next, as the browser
 * has yet to compile what draws, and to measure the signs of the font.
 */
export async function rehearse(): Promise<void> {
  const engraver = await loadEngraver();
  engraver.drawSystem(document.createElement('div'), PIECE, { firstBar: 0, endBar: 2 }, 700, 1);
}
