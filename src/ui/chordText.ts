import { chordNames, parseChord, pitchClass } from '../music/chords/index.ts';
import type { Fact } from '../tests-engine/index.ts';
import { CHORD_SENTENCES, fill, NOT_MARKED } from './messages.ts';
import { noteName } from './names.ts';

const SHARPS = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'];
const FLATS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];

/** A pitch class by name, spelled as the chord spells it; what is none of its tones with the accidentals that it uses. */
export function noteIn(symbol: string, pitch: number): string {
  // What comes from elsewhere may hold any number.
  const pc = ((Math.round(pitch) % 12) + 12) % 12;
  const chord = parseChord(symbol);
  const own = chord ? [...chordNames(chord), ...(chord.bass === null ? [] : [chord.bass])] : [];
  const flat = own.some((tone) => tone.includes('b')) || chord?.root === 'F';
  const name = own.find((tone) => pitchClass(tone) === pc) ?? (flat ? FLATS : SHARPS)[pc]!;
  return noteName(name);
}

/** Why a take was not marked, with what to do about it. */
const whyOf = (reason: unknown): string =>
  typeof reason === 'string' && Object.hasOwn(NOT_MARKED, reason)
    ? Object.values(NOT_MARKED[reason as keyof typeof NOT_MARKED]).join(' ')
    : '';

/** The sentence a teacher would say of chords; empty for what only a newer app has words for. */
export function chordText({ code, values }: Fact): string {
  if (!Object.hasOwn(CHORD_SENTENCES, code)) return '';
  const symbol = String(values['chord'] ?? '');
  const note = (key: string): Record<string, string> => {
    const pc = values[key];
    return typeof pc === 'number' ? { [key === 'instead' ? 'instead' : 'note']: noteIn(symbol, pc) } : {};
  };
  return fill(CHORD_SENTENCES[code as keyof typeof CHORD_SENTENCES], {
    ...values,
    why: whyOf(values['reason']),
    ...note('pitchClass'),
    ...note('instead'),
  });
}
