import type { PracticeTest, WrittenNote } from '../../../music/score.ts';
import { TICKS_PER_QUARTER } from '../../../music/units.ts';
import { METRES, type MetreName, barParts, barTicks } from '../../../music/metre.ts';

/** Where the stresses of a bar fall that harmony may change on, ticks from the bar line: its two parts. */
export function barStresses(metre: PracticeTest['phrase']['metre']): readonly number[] {
  const name = `${metre.beats}/${metre.beatUnit}`;
  // The second beat of 3/4 bears no stress; of a metre outside the list only the bar line is sure.
  if (!(name in METRES) || name === '3/4') return [0];
  return [0, barParts(name as MetreName)[0].reduce((sum, ticks) => sum + ticks, 0)];
}

/** A note long enough to be heard against a chord, wherever it stands: a crotchet. */
export const LONG_TICKS = TICKS_PER_QUARTER;

/** A melody note as harmony hears it. */
export interface Sung {
  readonly pc: number;
  readonly midi: number;
  readonly start: number;
  readonly end: number;
  /** It begins on a stress of the bar. */
  readonly strong: boolean;
  readonly long: boolean;
  /** Semitones to the next note; null at the end. */
  readonly onward: number | null;
  /** Semitones from the note before. */
  readonly before: number | null;
}

export function sungNotes({ metre, notes }: PracticeTest['phrase']): readonly Sung[] {
  const bar = barTicks(metre);
  const stresses = barStresses(metre);
  return notes.map((note: WrittenNote, i) => ({
    pc: note.midi % 12,
    midi: note.midi,
    start: note.startTicks,
    end: note.startTicks + note.durationTicks,
    strong: stresses.includes(note.startTicks % bar),
    long: note.durationTicks >= LONG_TICKS,
    onward: i + 1 < notes.length ? notes[i + 1]!.midi - note.midi : null,
    before: i > 0 ? note.midi - notes[i - 1]!.midi : null,
  }));
}

/** How a melody note meets a chord. */
export type Meeting =
  | 'chord tone'
  | 'resolved' // foreign to the chord, and left by step to one of its tones, or repeated into one
  | 'passing' // foreign, short and weak
  | 'blue' // the lowered third, fifth or seventh of a blues over a major chord
  | 'foreign'; // foreign, on a stress or long, and not resolved

/** Semitones up from a chord tone to the note, 0…11. */
const over = (note: number, tone: number): number => (((note - tone) % 12) + 12) % 12;

/** A step: a tone or semitone. */
const STEP = 2;

/**
 * @param tones of the chord, pitch classes. @param after tones of the chord over the next note.
 * @param blues whether blue notes are at home here; @param tonic of the key.
 */
export function meeting(
  note: Sung,
  tones: readonly number[],
  after: readonly number[],
  blues: boolean,
  tonic: number,
): Meeting {
  if (tones.includes(note.pc)) return 'chord tone';
  if (note.onward !== null && Math.abs(note.onward) <= STEP && note.onward !== 0) {
    const next = (((note.pc + note.onward) % 12) + 12) % 12;
    if (after.includes(next)) return 'resolved';
  }
  const degree = over(note.pc, tonic);
  if (blues && [3, 6, 10].includes(degree)) return 'blue';
  return note.strong || note.long ? 'foreign' : 'passing';
}

/** Clashes that a musician hears as wrong. */
export type Clash =
  | 'minor ninth' // the melody stands a minor ninth over a chord tone
  | 'cross-relation' // the chord has another inflection of the degree that the melody sings
  | 'major seventh'; // a stressed leading note against the root of a plain triad

/**
 * The clash of a note with a chord, or null. Short weak notes pass; so do notes that resolve by a step.
 * @param rootPc the chord's root. @param hasSeventh the chord's own seventh may be sung.
 */
export function clash(note: Sung, tones: readonly number[], rootPc: number, met: Meeting): Clash | null {
  if (met === 'chord tone' || met === 'blue' || met === 'passing') return null;
  const third = tones.find((pc) => over(pc, rootPc) === 3 || over(pc, rootPc) === 4);
  if (third !== undefined && [3, 4].includes(over(note.pc, rootPc)) && note.pc !== third)
    return 'cross-relation';
  // An appoggiatura resolves; only where it lasts longer than what it leads to is it heard as wrong.
  if (met === 'resolved' && !note.long) return null;
  if (met === 'resolved' && note.onward !== null && Math.abs(note.onward) === 1) return null;
  if (tones.some((pc) => over(note.pc, pc) === 1)) return 'minor ninth';
  if (over(note.pc, rootPc) === 11 && !tones.includes(note.pc)) return 'major seventh';
  return null;
}
