import { parseChord } from '../music/chords/index.ts';
import { CHORD_SPOKEN, fill, t } from './messages.ts';
import { noteName } from './names.ts';

/** A chord as it is said aloud: "A minor seven", "D major over F♯"; the symbol itself where it is none. */
export function chordSpoken(symbol: string): string {
  const chord = parseChord(symbol);
  if (!chord) return symbol;
  const said = fill(CHORD_SPOKEN[chord.quality], { root: noteName(chord.root) });
  return chord.bass === null ? said : t('chords.spoken.bass', { chord: said, bass: noteName(chord.bass) });
}
