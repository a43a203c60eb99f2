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
import { addArticulation } from './pageSigns.ts';
import { beamSlant } from './slant.ts';
import { CLEFS, spelled, writtenOctaveUp } from '../../notation/index.ts';
import type { BarSigns, Sign, WrittenAccidental } from '../../notation/index.ts';

/** One bar's notes for the library: staff and TAB column by column. */
export interface BarNotes {
  readonly signs: BarSigns;
  readonly staff: StaveNote[];
  readonly tab: Note[];
  readonly beams: Beam[];
  readonly tuplets: Tuplet[];
}

/** Rests sit around the middle line: B4 in the treble, D3 in the bass clef; the library counts it as its third. */
const REST_LINE = { treble: 'b/4', bass: 'd/3' } as const;
const MIDDLE_LINE = 3;

/** Half the width of a notehead at scale 1 (Bravura: 1.18 staff spaces of 10, a semibreve 1.69). */
const halfHead = (sign: Sign): number => (sign.value === 'w' ? 8.4 : 5.9);
/** Steeper looks restless where notes stand close (Gould: half a space over two close notes); px a px. */
const STEEPEST = 0.15;

/** The library centres a fret number on the left edge of the notehead's column; half a head sets it below. */
class FretNumber extends TabNote {
  readonly #shift: number;
  constructor(struct: ConstructorParameters<typeof TabNote>[0], shift: number) {
    super(struct);
    this.#shift = shift;
  }
  override getAbsoluteX(): number {
    return super.getAbsoluteX() + this.#shift;
  }
}

/** The library looks for the slope that costs least stem, and tilts beams over repeated notes. */
class PrintedBeam extends Beam {
  override calculateSlope(): void {
    const notes = this.getNotes();
    const first = notes[0] as StaveNote;
    const across = notes[notes.length - 1]!.getStemX() - first.getStemX();
    const places = notes.map((note) => (note as StaveNote).getKeyLine(0) * 2);
    const rise = beamSlant(places, first.getStemDirection() === Stem.UP) * SPACE;
    const slope = Math.max(-STEEPEST, Math.min(STEEPEST, -rise / across));
    // One slope to choose from, a hair apart so that the library's search ends.
    Object.assign(this.renderOptions, { minSlope: slope, maxSlope: slope + 1e-6, slopeIterations: 1 });
    super.calculateSlope();
  }
}
/** Between staff lines at scale 1. */
const SPACE = 10;

const duration = (sign: Sign): string =>
  `${sign.value}${sign.dots ? 'd' : ''}${sign.kind === 'rest' ? 'r' : ''}`;

function staffNote(piece: Piece, sign: Sign, accidental: WrittenAccidental | null): StaveNote {
  if (piece.oneLine) return lineNote(sign);
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
    keys: [
      `${sound.letter.toLowerCase()}${sound.accidental}/${sound.octave + writtenOctaveUp(piece.instrument, piece.strings)}`,
    ],
    duration: duration(sign),
    autoStem: true,
  });
  if (accidental) {
    const written = new Accidental(accidental.sign);
    note.addModifier(accidental.courtesy ? written.setAsCautionary() : written, 0);
  }
  return withDots(note, sign);
}

/** On the one line of a rhythm; stems up. */
function lineNote(sign: Sign): StaveNote {
  const note = new StaveNote({
    keys: ['b/4'],
    duration: duration(sign),
    stemDirection: Stem.UP,
    alignCenter: sign.kind === 'rest' && sign.wholeBar,
  });
  return withDots(note, sign);
}

/** The first note as it is given: a head without stem, flag or value. */
export function givenNotes(piece: Piece, accidental: WrittenAccidental | null): BarNotes {
  const sign: Sign = {
    ...{ kind: 'note', noteIndex: 0, startTicks: 0, value: 'q', dots: 0, wholeBar: false },
    ...{ tiedFromPrevious: false, tiedToNext: false, beam: null, tuplet: null },
  } as unknown as Sign;
  const staff = staffNote(piece, sign, accidental);
  staff.setStemStyle({ strokeStyle: 'none', fillStyle: 'none' });
  return { signs: [sign], staff: [staff], tab: [tabNote(piece, sign)], beams: [], tuplets: [] };
}

function withDots(note: StaveNote, sign: Sign): StaveNote {
  if (sign.dots) Dot.buildAndAttach([note], { all: true });
  return note;
}

/** Held notes and rests leave their column of the TAB empty: a fret is struck once. */
function tabNote(piece: Piece, sign: Sign): Note {
  if (sign.noteIndex === null || sign.tiedFromPrevious) return new GhostNote({ duration: duration(sign) });
  const { string, fret } = piece.phrase.notes[sign.noteIndex]!;
  const str = piece.mirrored ? piece.strings + 1 - string : string;
  return new FretNumber({ positions: [{ str, fret }], duration: duration(sign) }, halfHead(sign));
}

function groups(signs: BarSigns, of: (sign: Sign) => number | null): number[][] {
  const found = new Map<number, number[]>();
  signs.forEach((sign, i) => {
    const group = of(sign);
    if (group !== null) found.set(group, [...(found.get(group) ?? []), i]);
  });
  return [...found.values()];
}

/** Makes the notes of one bar. @param accidentals one for each sign. */
export function barNotes(
  piece: Piece,
  signs: BarSigns,
  accidentals: readonly (WrittenAccidental | null)[],
): BarNotes {
  const staff = signs.map((sign, i) => staffNote(piece, sign, accidentals[i] ?? null));
  const tab = signs.map((sign) => tabNote(piece, sign));
  const tuplets = groups(signs, (sign) => sign.tuplet).map((members) => {
    const options = { numNotes: 3, notesOccupied: 2 };
    // The TAB's columns last as long as the staff's; its bracket is not drawn.
    new Tuplet(
      members.map((i) => tab[i]!),
      options,
    );
    const beamedWhole = members.every((i) => signs[i]!.beam !== null);
    const tuplet = new Tuplet(
      members.map((i) => staff[i]!),
      { ...options, bracketed: !beamedWhole },
    );
    // The library moves a triplet's rests to its notes: in music for one voice they stay in the middle of the staff.
    for (const i of members) if (signs[i]!.kind === 'rest') staff[i]!.setKeyLine(0, MIDDLE_LINE);
    return tuplet;
  });
  const beams = groups(signs, (sign) => sign.beam).map(
    (members) =>
      new PrintedBeam(
        members.map((i) => staff[i]! as StemmableNote),
        !piece.oneLine,
      ),
  );
  for (const tuplet of tuplets) {
    const stem = (tuplet.getNotes()[0] as StemmableNote).getStemDirection();
    tuplet.setTupletLocation(stem === Stem.DOWN ? -1 : 1);
  }
  addArticulation(piece, signs, staff);
  return { signs, staff, tab, beams, tuplets };
}
