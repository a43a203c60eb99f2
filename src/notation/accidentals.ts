import type { WrittenNote } from '../music/score.ts';
import { accidentalKeeper, inSignature, spelled } from './spelling.ts';
import type { BarSigns } from './types.ts';

/** What stands before a notehead. */
export interface WrittenAccidental {
  /** `n` (natural), `#`, `b`, `##`, `bb`. */
  readonly sign: string;
  /** A reminder in brackets: the rule of the bar does not ask for it, the eye does. */
  readonly courtesy: boolean;
}

/**
 * The accidental before each sign of each bar, null for none. They hold to the end of their bar, for their
 * octave alone; a note tied over shows none, and gives none to the notes after it. A reminder is written where
 * the letter stood altered otherwise in another octave of the bar or in the bar before (E. Gould, Behind Bars,
 * 2011, "Cautionary accidentals"), and where a tie leads to a new line of music, whose reader no longer sees the
 * accidental that it began with.
 *
 * @param lineStarts bars that begin a line.
 */
export function writtenAccidentals(
  bars: readonly BarSigns[],
  notes: readonly WrittenNote[],
  fifths: number,
  lineStarts: readonly number[] = [],
): (WrittenAccidental | null)[][] {
  let before = new Map<string, string>();
  return bars.map((signs, bar) => {
    const keeper = accidentalKeeper(fifths);
    const here = new Map<string, string>();
    const reminded = new Set<string>();
    const written = signs.map((sign, i): WrittenAccidental | null => {
      if (sign.noteIndex === null) return null;
      const note = spelled(notes[sign.noteIndex]!.spelling);
      const last = here.get(note.letter) ?? before.get(note.letter) ?? inSignature(note.letter, fifths);
      const place = `${note.letter}${note.octave}`;
      here.set(note.letter, note.accidental);
      const reminder = { sign: note.accidental === '' ? 'n' : note.accidental, courtesy: true };
      if (sign.tiedFromPrevious) {
        const isUnseen = i === 0 && lineStarts.includes(bar);
        return isUnseen && note.accidental !== inSignature(note.letter, fifths) ? reminder : null;
      }
      const needed = keeper(note);
      const first = !reminded.has(place);
      reminded.add(place);
      if (needed !== null) return { sign: needed, courtesy: false };
      return first && last !== note.accidental ? reminder : null;
    });
    before = here;
    return written;
  });
}
