/** The one door to VexFlow: lines of staff and TAB as SVG. Loaded lazily through `load.ts`. */
import {
  BarlineType,
  Clef,
  Formatter,
  MetricsDefaults,
  Renderer,
  Stave,
  StaveConnector,
  StaveTempo,
  StaveTie,
  TabStave,
  VexFlow,
  Voice,
  type RenderContext,
  type StaveNote,
} from 'vexflow/core';
import bravuraUrl from '@vexflow-fonts/bravura/bravura.woff2?url';
import {
  barShape,
  CLEFS,
  fifthsOf,
  majorKeyOf,
  notate,
  writtenAccidentals,
  writtenOctaveUp,
} from '../../notation/index.ts';
import { xOfTicks, type EngravedSystem, type Piece, type SystemRange } from './layout.ts';
import type { Engraver } from './layout.ts';
import type { BarNotes } from './vexnotes.ts';
import { HANGS_FREE, hangsBelow, standsAbove } from './below.ts';
import { drawPageSigns, dynamicsRoom, hasTriplets } from './pageSigns.ts';
import { drawFigure } from './vexfigure.ts';
import { barNotes, givenNotes } from './vexnotes.ts';

/** Room above the staff for ledger lines, tempo and swing; units of a tenth of the staff's line distance. */
const STAFF_Y = 16;
/** From the top of the line of music to the foot of chord names, without and with tempo and swing above them. */
const CHORDS_Y = 16;
const CHORDS_UNDER_HEADING_Y = 34;
/** The library's own room above a staff, in which ledger lines stand. */
const ABOVE_STAFF = 40;
/** Air between chord names and what stands highest under them. */
const UNDER_CHORDS = 7;
const CHORD_PX = 14;
const TUPLET = 18;
/** From the staff's top to the TAB's: the library leaves 4 spaces above a stave, so this clears E6 to low E … */
const TAB_BELOW = 98;
/** … and this where nothing hangs under the staff: 34 between the lines of staff and TAB. */
const TAB_NEAR = 74;
/** Room above the one line of a rhythm is that of five lines. */
const ONE_LINE = [false, false, true, false, false].map((visible) => ({ visible }));
/** Length of four-string TAB clef in SMuFL; the library's own is the six-string one. */
const FOUR_STRING_TAB = '\uE06E';
/** The library hangs it on the middle of six strings, 13 apart: one string too low for four. */
const FOUR_STRING_UP = -13;
/** Air before the first note where no time signature stands before it, and for a tie that comes from the line above. */
const AFTER_KEY = 5;
const FOR_HALF_TIE = 12;
/** A third of a notehead. */
const TIE_OVER_HEAD = 4;

interface BarStaves {
  readonly staff: Stave;
  readonly tab: TabStave | null;
}

function stavesFor(piece: Piece, range: SystemRange, bar: number, x: number, width: number): BarStaves {
  const first = bar === range.firstBar;
  const staffY = staffTop(piece, range);
  const staff = new Stave(x, staffY, width);
  if (piece.oneLine) staff.setConfigForLines(ONE_LINE);
  const tab = piece.tab ? new TabStave(x, staffY + tabBelow(piece, range), width) : null;
  tab?.setNumLines(piece.strings);
  if (first && !piece.oneLine) {
    const octave = writtenOctaveUp(piece.instrument, piece.strings) === 1 ? '8vb' : undefined;
    staff
      .addClef(CLEFS[piece.instrument], 'default', octave)
      .addKeySignature(majorKeyOf(fifthsOf(piece.key)));
    tab?.addClef('tab');
    if (piece.strings === 4)
      for (const clef of tab?.getModifiers(undefined, Clef.CATEGORY) ?? [])
        clef.setText(FOUR_STRING_TAB).setYShift(FOUR_STRING_UP);
  }
  if (bar === 0) {
    const { beats, beatUnit } = piece.phrase.metre;
    staff.addTimeSignature(`${beats}/${beatUnit}`);
  }
  const end = bar === piece.phrase.bars - 1 ? BarlineType.END : BarlineType.SINGLE;
  for (const stave of [staff, tab]) stave?.setBegBarType(BarlineType.NONE).setEndBarType(end);
  return { staff, tab };
}

const chordsY = ({ heading }: Piece, { firstBar }: SystemRange): number =>
  heading && firstBar === 0 ? CHORDS_UNDER_HEADING_Y : CHORDS_Y;

/** Where the staff begins: lower where chord names stand over it, and over its highest note. */
function staffTop(piece: Piece, range: SystemRange): number {
  if (!piece.chords?.length) return STAFF_Y;
  const { ticks } = barShape(piece.phrase.metre);
  const rising = piece.phrase.notes
    .filter(
      ({ startTicks }) => startTicks < range.endBar * ticks && startTicks >= (range.firstBar - 1) * ticks,
    )
    .map(({ spelling }) => standsAbove(piece, spelling));
  // Triplets carry their bracket over the notes.
  const brackets = hasTriplets(piece, range) ? TUPLET : 0;
  return Math.max(
    STAFF_Y,
    chordsY(piece, range) + UNDER_CHORDS + Math.max(0, ...rising) + brackets - ABOVE_STAFF,
  );
}

/** Chord names over the staff, on the axis of its notes. */
function drawChords(
  context: RenderContext,
  piece: Piece,
  range: SystemRange,
  system: EngravedSystem,
  scale: number,
): void {
  const { ticks } = barShape(piece.phrase.metre);
  context.save();
  context.setFont('Atkinson Hyperlegible Next', CHORD_PX, 'normal', 'normal');
  for (const { atTicks, name } of piece.chords ?? []) {
    if (atTicks < range.firstBar * ticks || atTicks >= range.endBar * ticks) continue;
    const x = xOfTicks(system, atTicks) / scale - CHORD_PX / 2;
    context.fillText(name, x, chordsY(piece, range));
  }
  context.restore();
}

/** Distance of the TAB: as near as the notes of this line of music allow. */
function tabBelow(piece: Piece, range: SystemRange): number {
  const { firstBar, endBar } = range;
  const room = dynamicsRoom(piece, range);
  if (piece.oneLine) return TAB_NEAR + room;
  const { ticks } = barShape(piece.phrase.metre);
  const shown = piece.signs ? piece.phrase.notes : piece.given ? piece.phrase.notes.slice(0, 1) : [];
  const hanging = shown
    .filter(({ startTicks }) => startTicks < endBar * ticks && startTicks >= (firstBar - 1) * ticks)
    .map(({ spelling }) => hangsBelow(piece, spelling));
  return room + Math.max(TAB_NEAR, Math.min(TAB_BELOW, TAB_NEAR + Math.max(0, ...hanging) - HANGS_FREE));
}

function alignStarts({ staff, tab }: BarStaves, air: number): number {
  const start = Math.max(staff.getNoteStartX(), tab?.getNoteStartX() ?? 0) + air;
  staff.setNoteStartX(start);
  tab?.setNoteStartX(start);
  return start;
}

/** @param beside notes of another phrase that share the columns and are not drawn */
function drawNotes(
  context: RenderContext,
  { staff, tab }: BarStaves,
  notes: BarNotes,
  beside: BarNotes | null,
  besideFirst = false,
): void {
  const voice = (of: readonly (StaveNote | BarNotes['tab'][number])[]): Voice =>
    new Voice({ numBeats: 4, beatValue: 4 }).setMode(Voice.Mode.SOFT).addTickables([...of]);
  const staffVoice = voice(notes.staff);
  const tabVoice = tab ? voice(notes.tab) : null;
  const besideVoice = beside ? voice(beside.staff) : null;
  besideVoice?.setStave(staff);
  const own = [staffVoice, ...(tabVoice ? [tabVoice] : [])];
  const others = besideVoice ? [besideVoice] : [];
  const voices = besideFirst ? [...others, ...own] : [...own, ...others];
  const formatter = new Formatter();
  for (const one of voices) formatter.joinVoices([one]);
  const room = staff.getNoteEndX() - staff.getNoteStartX() - Stave.defaultPadding;
  formatter.format(voices, room, { alignRests: false, stave: staff });
  staffVoice.draw(context, staff);
  if (tab) tabVoice?.draw(context, tab);
  for (const beam of notes.beams) beam.setContext(context).draw();
  for (const tuplet of notes.tuplets) tuplet.setContext(context).draw();
}

/** Tempo (of the beat: a dotted crotchet in 6/8) and how quavers are meant, above the clef. */
function drawHeading(context: RenderContext, piece: Piece, staff: Stave): void {
  const compound =
    piece.phrase.metre.beatUnit === 8 && piece.phrase.metre.grouping.every((size) => size === 3);
  const bpm = Math.round(piece.tempoBpm / (compound ? 1.5 : 1));
  const tempo = new StaveTempo(
    { duration: 'q', dots: compound ? 1 : 0, bpm },
    -staff.getModifierXShift(),
    -14,
  );
  staff.addModifier(tempo);
  if (piece.swing === 0.5) return;
  context.save();
  context.setFont('Atkinson Hyperlegible Next', 11, 'normal', 'normal');
  context.fillText(piece.swingWords, 92, staff.getYForTopText(1) - 14);
  context.restore();
}

/** From over (or under) one head's middle to the other's: between close heads it would be a speck. */
function drawTie(context: RenderContext, firstNote: StaveNote | null, lastNote: StaveNote | null): void {
  const tie = new StaveTie({ firstNote, lastNote });
  Object.assign(tie.renderOptions, {
    firstXShift: firstNote ? -TIE_OVER_HEAD : 0,
    lastXShift: lastNote ? TIE_OVER_HEAD : 0,
  });
  tie.setContext(context).draw();
}

/** Ties between signs of one note, over bar lines too; half ties where the other end is on another line. */
function drawTies(context: RenderContext, bars: readonly BarNotes[]): void {
  const signs = bars.flatMap((bar) => bar.signs.map((sign, i) => ({ sign, note: bar.staff[i]! })));
  signs.forEach(({ sign, note }, i) => {
    const next = signs[i + 1]?.note ?? null;
    if (sign.tiedToNext) drawTie(context, note, next);
    if (i === 0 && sign.tiedFromPrevious) drawTie(context, null, note);
  });
}

function drawSystem(
  host: HTMLElement,
  piece: Piece,
  range: SystemRange,
  width: number,
  scale: number,
): EngravedSystem {
  host.replaceChildren();
  const renderer = new Renderer(host as HTMLDivElement, Renderer.Backends.SVG);
  const context = renderer.getContext();
  const inner = width / scale;
  const lowest = staffTop(piece, range) + (piece.tab ? tabBelow(piece, range) : 0);
  const under = piece.oneLine && !piece.tab ? 8 : piece.tab || !piece.signs ? 34 : 72;
  const height = lowest + 40 + (piece.tab ? (piece.strings - 1) * 13 : 40) + under;
  renderer.resize(width, height * scale);
  context.scale(scale, scale);

  // Clef, signatures and their padding come before the bars share the rest equally.
  const probe = stavesFor(piece, range, range.firstBar, 0, inner);
  const bars = notate(piece.phrase);
  const accidentals = writtenAccidentals(bars, piece.phrase.notes, fifthsOf(piece.key), [range.firstBar]);
  const tiedIn = piece.signs && bars[range.firstBar]![0]!.tiedFromPrevious;
  const air = tiedIn ? FOR_HALF_TIE : range.firstBar === 0 ? 0 : AFTER_KEY;
  const head = alignStarts(probe, air);
  const count = range.endBar - range.firstBar;
  const barWidth = (inner - 2 - head) / count;
  const shape = barShape(piece.phrase.metre);

  let x = 1;
  const places: EngravedSystem['bars'][number][] = [];
  const drawn: BarNotes[] = [];
  let topY = 0;
  let bottomY = 0;
  let staff = { topY: 0, gap: 0 };
  let tab: EngravedSystem['tab'] = null;
  for (let bar = range.firstBar; bar < range.endBar; bar += 1) {
    const own = bar === range.firstBar ? head + barWidth : barWidth;
    const staves = stavesFor(piece, range, bar, x, own);
    const startX = alignStarts(staves, bar === range.firstBar ? air : 0);
    if (bar === 0 && piece.heading) drawHeading(context, piece, staves.staff);
    staves.staff.setContext(context).draw();
    staves.tab?.setContext(context).draw();
    if (bar === range.firstBar && staves.tab)
      new StaveConnector(staves.staff, staves.tab).setType('singleLeft').setContext(context).draw();
    if (staves.tab)
      new StaveConnector(staves.staff, staves.tab)
        .setType(bar === piece.phrase.bars - 1 ? 'boldDoubleRight' : 'singleRight')
        .setContext(context)
        .draw();
    if (piece.signs) {
      const notes = barNotes(piece, bars[bar]!, accidentals[bar]!);
      const others = piece.beside ? notate(piece.beside)[bar]! : null;
      const hidden = others && barNotes({ ...piece, phrase: piece.beside! }, others, []);
      drawNotes(context, staves, notes, hidden, piece.besideFirst);
      drawn.push(notes);
    } else if (piece.given && bar === 0 && piece.phrase.notes.length > 0) {
      const [first] = writtenAccidentals(bars, piece.phrase.notes, fifthsOf(piece.key), [0]);
      const at = bars.flat().findIndex(({ noteIndex }) => noteIndex === 0);
      drawNotes(context, staves, givenNotes(piece, first?.[at] ?? null), null);
    }
    topY = staves.staff.getYForLine(0);
    bottomY = (staves.tab ?? staves.staff).getBottomLineY();
    const linesOf = (of: { getYForLine(line: number): number }): EngravedSystem['staff'] => ({
      topY: of.getYForLine(0) * scale,
      gap: (of.getYForLine(1) - of.getYForLine(0)) * scale,
    });
    staff = linesOf(staves.staff);
    tab = staves.tab ? linesOf(staves.tab) : null;
    places.push({
      bar,
      startTicks: bar * shape.ticks,
      endTicks: (bar + 1) * shape.ticks,
      startX: startX * scale,
      endX: (x + own) * scale,
    });
    x += own;
  }
  drawTies(context, drawn);
  const system: EngravedSystem = {
    width,
    height: height * scale,
    topY: topY * scale,
    bottomY: bottomY * scale,
    ...{ staff, tab },
    bars: places,
    notes: drawn.flatMap((bar) =>
      bar.signs.flatMap((sign, i) =>
        sign.noteIndex === null || sign.tiedFromPrevious
          ? []
          : [
              {
                noteIndex: sign.noteIndex,
                startTicks: sign.startTicks,
                x: (bar.staff[i]!.getNoteHeadBeginX() + bar.staff[i]!.getNoteHeadEndX()) * 0.5 * scale,
              },
            ],
      ),
    ),
  };
  if (piece.signs && (piece.pageSigns || piece.positions)) {
    const { staff } = stavesFor(piece, range, range.firstBar, 0, inner);
    const [top, bottom] = [staff.getYForLine(0), staff.getYForLine(piece.oneLine ? 2 : 4)];
    drawPageSigns(context, piece, range, system, { top, bottom, scale });
  }
  drawChords(context, piece, range, system, scale);
  return system;
}

/** Loads the music font and answers the engraver. */
export async function openEngraver(): Promise<Engraver> {
  const face = new FontFace('Bravura', `url(${bravuraUrl})`, { display: 'block' });
  await face.load();
  document.fonts.add(face);
  // Fret numbers at the height of the space between the lines: the library's 9 pt is read from a desk, not a stand.
  MetricsDefaults.TabNote.text.fontSize = 10.5;
  VexFlow.setFonts('Bravura', 'Atkinson Hyperlegible Next');
  return { drawSystem, drawFigure };
}
