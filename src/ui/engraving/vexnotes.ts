import {
  Accidental,
  Beam,
  Dot,
  GhostNote,
  Stem,
  StaveNote,
  TabNote,
  Tuplet,
  type Note,
  type StemmableNote,
} from 'vexflow/core';
import type { Piece } from './layout.ts';
import { CLEFS, WRITTEN_OCTAVE_UP, accidentalKeeper, fifthsOf, spelled } from '../../notation/index.ts';
import type { BarSigns, Sign } from '../../notation/index.ts';

/** One bar's notes for the library: staff and TAB column by column. */
export interface BarNotes {
  readonly signs: BarSigns;
  readonly staff: StaveNote[];
  readonly tab: Note[];
  readonly beams: Beam[];
  readonly tuplets: Tuplet[];
}

/** Rests sit around the middle line: B4 in the treble, D3 in the bass clef. */
const REST_LINE = { treble: 'b/4', bass: 'd/3' } as const;

/** Half the width of a black notehead at scale 1 (Bravura: 1.18 staff spaces of 10). */
const HALF_HEAD = 5.9;

const duration = (sign: Sign): string =>
  `${sign.value}${sign.dots ? 'd' : ''}${sign.kind === 'rest' ? 'r' : ''}`;

function staffNote(piece: Piece, sign: Sign, accidentals: ReturnType<typeof accidentalKeeper>): StaveNote {
  const clef = CLEFS[piece.instrument];
  if (sign.noteIndex === null)
    return withDots(
      new StaveNote({
        clef,
        keys: [REST_LINE[clef]],
        duration: duration(sign),
        alignCenter: sign.wholeBar,
      }),
      sign,
    );
  const sound = spelled(piece.phrase.notes[sign.noteIndex]!.spelling);
  const note = new StaveNote({
    clef,
    keys: [`${sound.letter.toLowerCase()}${sound.accidental}/${sound.octave + WRITTEN_OCTAVE_UP}`],
    duration: duration(sign),
    autoStem: true,
  });
  const accidental = accidentals(sound);
  if (accidental !== null && !sign.tiedFromPrevious) note.addModifier(new Accidental(accidental), 0);
  return withDots(note, sign);
}

function withDots(note: StaveNote, sign: Sign): StaveNote {
  if (sign.dots) Dot.buildAndAttach([note], { all: true });
  return note;
}

/** Held notes and rests leave their column of the TAB empty: a fret is struck once. */
function tabNote(piece: Piece, sign: Sign): Note {
  if (sign.noteIndex === null || sign.tiedFromPrevious) return new GhostNote({ duration: duration(sign) });
  const { string, fret } = piece.phrase.notes[sign.noteIndex]!;
  const note = new TabNote({ positions: [{ str: string, fret }], duration: duration(sign) });
  // The library centres a fret number on the left edge of the notehead's column; half a head sets it below.
  return note.setXShift(HALF_HEAD);
}

function groups(signs: BarSigns, of: (sign: Sign) => number | null): number[][] {
  const found = new Map<number, number[]>();
  signs.forEach((sign, i) => {
    const group = of(sign);
    if (group !== null) found.set(group, [...(found.get(group) ?? []), i]);
  });
  return [...found.values()];
}

/** Makes the notes of one bar; accidentals hold to its end. */
export function barNotes(piece: Piece, signs: BarSigns): BarNotes {
  const accidentals = accidentalKeeper(fifthsOf(piece.key));
  const staff = signs.map((sign) => staffNote(piece, sign, accidentals));
  const tab = signs.map((sign) => tabNote(piece, sign));
  const tuplets = groups(signs, (sign) => sign.tuplet).map((members) => {
    const options = { numNotes: 3, notesOccupied: 2 };
    // The TAB's columns last as long as the staff's; its bracket is not drawn.
    new Tuplet(
      members.map((i) => tab[i]!),
      options,
    );
    const beamedWhole = members.every((i) => signs[i]!.beam !== null);
    return new Tuplet(
      members.map((i) => staff[i]!),
      { ...options, bracketed: !beamedWhole },
    );
  });
  const beams = groups(signs, (sign) => sign.beam).map(
    (members) =>
      new Beam(
        members.map((i) => staff[i]! as StemmableNote),
        true,
      ),
  );
  // A quarter of the library's own slope: leaps of an octave stay inside the staff's air.
  for (const beam of beams) beam.renderOptions.maxSlope = 0.12;
  for (const tuplet of tuplets) {
    const stem = (tuplet.getNotes()[0] as StemmableNote).getStemDirection();
    tuplet.setTupletLocation(stem === Stem.DOWN ? -1 : 1);
  }
  return { signs, staff, tab, beams, tuplets };
}
