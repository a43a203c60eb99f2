import {
  Beam,
  Dot,
  Formatter,
  Renderer,
  Stave,
  StaveNote,
  StaveTie,
  Stem,
  Tuplet,
  Voice,
} from 'vexflow/core';
import { figureBeams, figureSigns, type FigureSign, type RhythmFigure } from './figure.ts';

/** Room of a sign, before the first and after the last; height; at scale 1, px. */
const ROOM = { sign: 30, before: 18, after: 10, height: 64 };
const SCALE = 0.8;
/** The middle line of a stave drawn at y 0 lies 60 down: the heads then stand at the foot of the picture. */
const STAVE_Y = -8;

function noteOf({ value, dots, rest }: FigureSign): StaveNote {
  const duration = `${value}${dots ? 'd' : ''}${rest ? 'r' : ''}`;
  const note = new StaveNote({ keys: ['b/4'], duration, stemDirection: Stem.UP });
  if (dots) Dot.buildAndAttach([note], { all: true });
  return note;
}

/** Draws a rhythm figure into `host`: signs, beams, a three over triplets, a tie into the first where it is held. */
export function drawFigure(host: HTMLElement, figure: RhythmFigure): void {
  host.replaceChildren();
  const signs = figureSigns(figure);
  const width = ROOM.before + signs.length * ROOM.sign + ROOM.after;
  const renderer = new Renderer(host as HTMLDivElement, Renderer.Backends.SVG);
  renderer.resize(width * SCALE, ROOM.height * SCALE);
  const context = renderer.getContext();
  context.scale(SCALE, SCALE);
  const stave = new Stave(0, STAVE_Y, width).setContext(context).setNoteStartX(ROOM.before);
  const notes = signs.map(noteOf);
  const beams = figureBeams(signs).map(([from, to]) => new Beam(notes.slice(from, to + 1)));
  const tuplets = signs.some(({ triplet }) => triplet)
    ? [new Tuplet(notes, { numNotes: 3, notesOccupied: 2, bracketed: beams.length === 0 || signs[0]!.rest })]
    : [];
  const voice = new Voice({ numBeats: 4, beatValue: 4 }).setMode(Voice.Mode.SOFT).addTickables(notes);
  new Formatter().joinVoices([voice]).format([voice], signs.length * ROOM.sign);
  voice.draw(context, stave);
  for (const one of [...beams, ...tuplets]) one.setContext(context).draw();
  if (figure.held) new StaveTie({ firstNote: null, lastNote: notes[0]! }).setContext(context).draw();
}
