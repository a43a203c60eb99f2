import { pitchClass, parseChord, type ChordDoubt, type ChordTest } from '../../music/chords/index.ts';
import type { HeardTake } from '../../music/notes.ts';
import type { ChordMark } from '../../tests-engine/index.ts';
import { noteIn } from '../chordText.ts';
import { CHORD_DOUBTS, t } from '../messages.ts';

/** One chord of a marked take as it is read. */
export interface ChordRow {
  readonly kind: ChordMark['verdicts'][number]['kind'];
  /** null for a stroke that answers none. */
  readonly symbol: string | null;
  readonly frets: readonly (number | null)[] | null;
  /** What was heard of it, and when it came, in words. */
  readonly said: readonly string[];
}

/** Earlier or later than this is told: what is nearer costs nothing. */
const TOLD_MS = 60;

/** The rows of a mark on chords, in order. */
export function chordRows(test: ChordTest, take: HeardTake, mark: ChordMark): ChordRow[] {
  return mark.verdicts.map(({ kind, askedIndex, atSec, errorMs, missing, foreign, bass, byHand }) => {
    // What a record from elsewhere points at beyond the list is drawn like a stroke that answers none.
    const chord = askedIndex === null ? undefined : test.chords[askedIndex];
    if (askedIndex === null || !chord) return { kind, symbol: null, frets: null, said: [] };
    const { symbol, frets } = chord;
    const names = (classes: readonly number[]): string => classes.map((pc) => noteIn(symbol, pc)).join(', ');
    const said: string[] = [];
    if (missing.length > 0) said.push(t('chords.missing', { notes: names(missing) }));
    if (foreign.length > 0) said.push(t('chords.foreign', { notes: names(foreign) }));
    if (bass !== null) said.push(t('chords.bass', { note: noteIn(symbol, bass % 12) }));
    else if (kind === 'no' && said.length === 0 && !byHand)
      said.push(t('chords.missing', { notes: bassOf(symbol) }));
    const doubt = kind === 'unsure' ? doubtOf(take, atSec, askedIndex) : null;
    if (doubt) said.push(CHORD_DOUBTS[doubt].text, CHORD_DOUBTS[doubt].remedy);
    if (errorMs !== null && Math.abs(errorMs) > TOLD_MS)
      said.push(t(errorMs > 0 ? 'chords.late' : 'chords.early', { ms: Math.round(Math.abs(errorMs)) }));
    return { kind, symbol, frets, said };
  });
}

/** The note that carries a chord, by name: it is silent where a chord is wrong in nothing else. */
function bassOf(symbol: string): string {
  const chord = parseChord(symbol);
  return chord ? noteIn(symbol, pitchClass(chord.bass ?? chord.root) ?? 0) : symbol;
}

function doubtOf({ strums = [] }: HeardTake, atSec: number | null, asked: number): ChordDoubt | null {
  const strum = strums.find(({ firstSec }) => firstSec === atSec);
  return strum?.answers.find((answer) => answer.asked === asked)?.doubt ?? null;
}
