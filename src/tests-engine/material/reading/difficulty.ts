import { TICKS_PER_QUARTER } from '../../../music/units.ts';
import { syncopations } from '../difficulty/syncopation.ts';
import { barTicks, beatLengths } from '../../../music/metre.ts';
import { isAltered, ledgerLines, signatureSize } from './staff.ts';
import type { ReadingPage } from './types.ts';

/**
 * A measure of how hard a page is to play at sight, from what stands on it alone. As with `difficulty()` each part is a
 * quantity divided by the amount that counts as a full share, and parts count equally (Dawes 1979). The parts are those
 * that work on reading names: key signature, accidentals, length and rhythm (McPherson, "Factors and abilities
 * influencing sightreading skill in music", Journal of Research in Music Education 42, 1994: most errors are of rhythm,
 * then of forgotten signatures), playing speed, altered notes and displacement of the hand (Chiu and Chen, "A study on
 * difficulty level recognition of piano sheet music", IEEE ISM 2012). Both are cited from memory; that ledger lines,
 * positions and shifts are what guitarists stumble over is common practice, no source. Full shares are round numbers
 * near the top of what twelve bars hold; none was fitted to grades.
 */
export const READING_FULL_SHARE = {
  /** Sharps or flats in the signature. */
  signature: 6,
  /** Accidentals beside the signature, share of the notes. */
  accidentals: 0.2,
  /** Ledger lines a note. */
  ledgers: 1,
  /** Frets that the hand stands above the open position, mean over bars. */
  position: 8,
  /** Changes of position. */
  shifts: 3,
  /** Mean interval, semitones. */
  interval: 5,
  /** Notes a second. */
  pace: 3,
  /** Bars. */
  length: 12,
  /** Different bar rhythms, each of which has to be taken in anew. */
  figures: 10,
  /** Rests and ties, a bar. */
  silences: 1.5,
  /** Longuet-Higgins & Lee syncopation a bar, each syncopation's strength + 1. */
  syncopation: 6,
  /** Different distances between onsets, beyond the first. */
  variety: 8,
  /** Unequal groups (5/4) count 1, unequal beats (7/8) 2. */
  unequal: 2,
} as const;

export type ReadingPart = keyof typeof READING_FULL_SHARE;

export interface ReadingDifficulty {
  /** 0 = nothing to do; 100 = a full share of every part. */
  readonly total: number;
  /** Shares, 1 = full. */
  readonly parts: Readonly<Record<ReadingPart, number>>;
}

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length);

/** Notes held over a beat that a beat unit's own value could not show, and silences between notes. */
function silences(page: ReadingPage): number {
  const { notes, metre, bars } = page.phrase;
  const bar = barTicks(metre);
  let count = 0;
  notes.forEach((note, i) => {
    const end = note.startTicks + note.durationTicks;
    if (Math.floor((end - 1) / bar) > Math.floor(note.startTicks / bar)) count++;
    const next = notes[i + 1]?.startTicks ?? bar * bars;
    if (next > end) count++;
  });
  return count;
}

/** Difficulty of a page with its parts. @throws RangeError for a page without notes. */
export function readingDifficulty(page: ReadingPage): ReadingDifficulty {
  const { phrase, key, instrument, tempoBpm } = page;
  const { notes, metre, bars } = phrase;
  if (notes.length === 0) throw new RangeError('a page without notes has no difficulty');
  const bar = barTicks(metre);
  const seconds = ((bar * bars) / TICKS_PER_QUARTER) * (60 / tempoBpm);
  const onsets = notes.map(({ startTicks }) => startTicks as number);
  const rhythms = Array.from({ length: bars }, (_, b) =>
    notes
      .filter((note) => Math.floor(note.startTicks / bar) === b)
      .map((note) => `${note.startTicks % bar}+${note.durationTicks}`)
      .join(),
  );
  const frets = rhythms.map((_, b) => page.positions.findLast((at) => at.bar <= b)!.fret);
  const lengths = beatLengths(metre);
  const amounts: Record<ReadingPart, number> = {
    signature: signatureSize(key),
    accidentals: mean(notes.map(({ spelling }) => (isAltered(spelling, key) ? 1 : 0))),
    ledgers: mean(notes.map(({ spelling }) => Math.abs(ledgerLines(spelling, instrument)))),
    position: mean(frets) - 1,
    shifts: page.positions.length - 1,
    interval: mean(notes.slice(1).map((note, i) => Math.abs(note.midi - notes[i]!.midi))),
    pace: notes.length / seconds,
    length: bars,
    figures: new Set(rhythms).size,
    silences: silences(page) / bars,
    syncopation: syncopations(onsets, metre, bars).reduce((sum, s) => sum + s + 1, 0) / bars,
    variety: new Set(onsets.slice(1).map((onset, i) => onset - onsets[i]!)).size - 1,
    unequal: new Set(metre.grouping).size > 1 ? (new Set(lengths).size > 1 ? 2 : 1) : 0,
  };
  const names = Object.keys(READING_FULL_SHARE) as ReadingPart[];
  const parts = Object.fromEntries(names.map((name) => [name, amounts[name] / READING_FULL_SHARE[name]]));
  return {
    total: (100 * names.reduce((sum, name) => sum + parts[name]!, 0)) / names.length,
    parts: parts as Record<ReadingPart, number>,
  };
}
