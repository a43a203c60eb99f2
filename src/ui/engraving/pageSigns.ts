import { Articulation, Modifier, Stem, type RenderContext, type StaveNote } from 'vexflow/core';
import type { Sign } from '../../notation/index.ts';
import { hangsBelow } from './below.ts';
import { xOfTicks, type EngravedSystem, type Piece, type SystemRange } from './layout.ts';
import { barShape } from '../../notation/index.ts';

/** The library's names of what stands at a notehead. */
const AT_NOTE = { staccato: 'a.', accent: 'a>', tenuto: 'a-' } as const;
/** Dynamics in the music font (SMuFL, "Dynamics"). */
const LETTERS = { p: '\uE520', mp: '\uE52C', mf: '\uE52D', f: '\uE522' } as const;
/** Size of the letters, and how far they and hairpins lie under the lowest thing that hangs from the staff; units. */
const LETTER_PT = 24;
const AIR = 22;
/** Half the opening of a hairpin, and the air at its ends. */
const OPENS = 5;
const END_AIR = 12;
/** From a hairpin's end to the bar line that it ends at. */
const BEFORE_BAR = 4;
/** Room that a line of music with dynamics takes between staff and TAB, and more where numbers of triplets may hang there. */
const DYNAMICS_ROOM = 26;
const TRIPLET_ROOM = 20;

const inRange = (piece: Piece, { firstBar, endBar }: SystemRange, ticks: number): boolean => {
  const bar = barShape(piece.phrase.metre).ticks;
  return ticks >= firstBar * bar && ticks < endBar * bar;
};

/** Whether a line of music has letters or hairpins under it. */
const hasDynamics = (piece: Piece, range: SystemRange): boolean =>
  (piece.pageSigns ?? []).some((sign) =>
    sign.kind === 'dynamic'
      ? inRange(piece, range, sign.atTicks)
      : 'fromTicks' in sign &&
        (inRange(piece, range, sign.fromTicks) || inRange(piece, range, sign.toTicks - 1)),
  );

/** Whether a line of music has triplets; their numbers stand at the beam, over or under the staff. */
export const hasTriplets = (piece: Piece, range: SystemRange): boolean =>
  piece.phrase.notes.some(({ startTicks }) => startTicks % 120 !== 0 && inRange(piece, range, startTicks));

/** How much farther from the staff its TAB stands for what is under it, units. */
export const dynamicsRoom = (piece: Piece, range: SystemRange): number =>
  hasDynamics(piece, range) ? DYNAMICS_ROOM + (hasTriplets(piece, range) ? TRIPLET_ROOM : 0) : 0;

/** Articulation at the heads of one bar, on the side away from the stem; after beams have turned the stems. */
export function addArticulation(piece: Piece, signs: readonly Sign[], staff: readonly StaveNote[]): void {
  for (const sign of piece.pageSigns ?? []) {
    if (!('note' in sign)) continue;
    const at = signs.findIndex(
      ({ noteIndex, tiedFromPrevious }) => noteIndex === sign.note && !tiedFromPrevious,
    );
    const note = staff[at];
    if (!note) continue;
    const atHead = note.getStemDirection() === Stem.UP && !piece.oneLine;
    // A tie goes out at the head's side: the mark leaves it that side. An accent is too wide to stand between lines.
    const below = atHead && !signs[at]!.tiedToNext;
    const mark = new Articulation(AT_NOTE[sign.kind]);
    if (sign.kind === 'accent') mark.setBetweenLines(false);
    note.addModifier(mark.setPosition(below ? Modifier.Position.BELOW : Modifier.Position.ABOVE), 0);
  }
}

/**
 * Dynamics and hairpins under the staff, and above it the hand's position where it is not the first, and where it goes to
 * another (as Roman numerals, the usual way). @param bottom the staff's lowest line, units; @param top its highest
 */
export function drawPageSigns(
  context: RenderContext,
  piece: Piece,
  range: SystemRange,
  system: EngravedSystem,
  { top, bottom, scale }: { readonly top: number; readonly bottom: number; readonly scale: number },
): void {
  const bar = barShape(piece.phrase.metre).ticks;
  const x = (ticks: number): number => xOfTicks(system, ticks) / scale;
  const hanging = piece.oneLine
    ? [0]
    : piece.phrase.notes
        .filter(({ startTicks }) => inRange(piece, range, startTicks))
        .map(({ spelling }) => hangsBelow(piece, spelling));
  const y = bottom + Math.max(8, ...hanging) + AIR + (hasTriplets(piece, range) ? TRIPLET_ROOM : 0);
  context.save();
  for (const sign of piece.pageSigns ?? []) {
    if (sign.kind === 'dynamic' && inRange(piece, range, sign.atTicks)) {
      context.setFont('Bravura', LETTER_PT, 'normal', 'normal');
      context.fillText(LETTERS[sign.word], x(sign.atTicks) - 8, y);
    } else if (sign.kind === 'louder' || sign.kind === 'softer') {
      const from = Math.max(sign.fromTicks, range.firstBar * bar);
      const to = Math.min(sign.toTicks, range.endBar * bar);
      if (from >= to) continue;
      const line = system.bars.find(({ endTicks }) => endTicks === to);
      const left = x(from) + END_AIR;
      const right = line ? line.endX / scale - BEFORE_BAR : x(to) - END_AIR;
      const [open, close] = sign.kind === 'louder' ? [right, left] : [left, right];
      context.beginPath();
      context
        .moveTo(open, y - 4 - OPENS)
        .lineTo(close, y - 4)
        .lineTo(open, y - 4 + OPENS);
      context.stroke();
    }
  }
  context.setFont('Atkinson Hyperlegible Next', 12, 'bold', 'normal');
  for (const { bar: at, fret } of piece.positions ?? [])
    if ((at > 0 || fret > 1) && inRange(piece, range, at * bar))
      context.fillText(roman(fret), x(at * bar) - 6, top - 44);
  context.restore();
}

const ROMAN = [
  'I',
  'II',
  'III',
  'IV',
  'V',
  'VI',
  'VII',
  'VIII',
  'IX',
  'X',
  'XI',
  'XII',
  'XIII',
  'XIV',
  'XV',
  'XVI',
  'XVII',
  'XVIII',
  'XIX',
  'XX',
];
/** A position as guitar music prints it. */
export const roman = (fret: number): string => ROMAN[Math.max(1, fret) - 1] ?? String(fret);
