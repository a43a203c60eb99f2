import { isPitched } from '../../music/kinds.ts';
import { Note, Scale } from 'tonal';
import type { Metre, WrittenNote } from '../../music/score.ts';
import type { NotesTask } from '../../music/task.ts';
import { TICKS_PER_QUARTER } from '../../music/units.ts';
import { PITCH_PARTS, TIME_PARTS } from './parts.ts';
import type { PitchPart, TimePart } from './parts.ts';

/** A task of written notes. */
type Noted = Pick<NotesTask, 'kind' | 'key' | 'phrase' | 'tempoBpm'>;

/** Which parts one written note asks for. The first note's pitch is given, so it asks for none. */
export interface NoteParts {
  readonly pitch: readonly PitchPart[];
  readonly time: readonly TimePart[];
}

/** Interval classes by absolute size in semitones, up and down. */
function intervalPart(semitones: number): PitchPart {
  if (semitones === 0) return 'repeat';
  const size = Math.abs(semitones);
  const up = semitones > 0;
  if (size <= 2) return up ? 'step-up' : 'step-down';
  if (size <= 4) return up ? 'third-up' : 'third-down';
  if (size <= 6) return up ? 'fourth-up' : 'fourth-down';
  if (size === 7) return up ? 'fifth-up' : 'fifth-down';
  return up ? 'wide-up' : 'wide-down';
}

/** Degree by letter from the tonic, 1…7; `chromatic` where the note is not of the scale. */
function degreePart(spelling: string, tonic: string, scaleChromas: ReadonlySet<number>): PitchPart {
  const note = Note.get(spelling);
  if (scaleChromas.size > 0 && !scaleChromas.has(note.chroma)) return 'chromatic';
  const degree = (((note.step - Note.get(tonic).step) % 7) + 7) % 7;
  return PITCH_PARTS[PITCH_PARTS.indexOf('degree-1') + degree]!;
}

function pitchParts(test: Noted): PitchPart[][] {
  const { notes } = test.phrase;
  const scale = Scale.get(`${test.key.tonic} ${test.key.scale}`);
  const chromas = new Set(scale.notes.map((name) => Note.get(name).chroma));
  return notes.map((note, i) => {
    if (!isPitched(test.kind) || i === 0) return [];
    const step = note.midi - notes[i - 1]!.midi;
    const found = [intervalPart(step), degreePart(note.spelling, test.key.tonic, chromas)];
    const before = i >= 2 ? notes[i - 1]!.midi - notes[i - 2]!.midi : 0;
    if (Math.abs(before) >= 5 && before * step < 0) found.push('turn');
    if (i <= notes.length / 4) found.push('opening');
    if (i >= notes.length - 2) found.push('ending');
    return found;
  });
}

/** Beats in ticks, one after another for a bar: 3/4 → [480, 480, 480]; 6/8 as 3 + 3 → [720, 720]. */
export function beatsOfBar(metre: Metre): number[] {
  const unit = (TICKS_PER_QUARTER * 4) / metre.beatUnit;
  const grouped = metre.beatUnit >= 8 && metre.grouping.every((group) => group >= 2);
  return grouped ? metre.grouping.map((group) => group * unit) : Array<number>(metre.beats).fill(unit);
}

/** Where a time lies: how far into its beat, that beat's length, and the number of the beat. */
function inBeat(ticks: number, beats: readonly number[]) {
  const bar = beats.reduce((sum, beat) => sum + beat, 0);
  const barIndex = Math.floor(ticks / bar);
  let rest = ticks - barIndex * bar;
  let index = 0;
  while (rest >= beats[index]!) rest -= beats[index++]!;
  return { offset: rest, length: beats[index]!, bar: barIndex, count: barIndex * beats.length + index };
}

function placePart(offset: number, length: number): TimePart {
  if (offset === 0) return 'on-beat';
  const compound = length % 720 === 0;
  if (compound) return offset % 240 === 0 ? 'off-beat' : 'quarter-beat';
  if (offset % 240 === 0) return 'off-beat';
  return offset % 80 === 0 && offset % 120 !== 0 ? 'triplet' : 'quarter-beat';
}

function gapParts(note: WrittenNote, before: WrittenNote, beats: readonly number[]): TimePart[] {
  const { length } = inBeat(before.startTicks, beats);
  const gap = (note.startTicks - before.startTicks) / length;
  const end = before.startTicks + before.durationTicks;
  const found: TimePart[] = [gap >= 1 ? 'crotchet-gap' : gap >= 0.5 ? 'quaver-gap' : 'short-gap'];
  if (end < note.startTicks) found.push('after-rest');
  const dotted = before.durationTicks % 720 === 0 || before.durationTicks === 360;
  if (dotted && length !== 720) found.push('after-dot');
  const from = inBeat(before.startTicks, beats);
  const to = inBeat(end - 1, beats);
  if (from.offset > 0 && to.count > from.count) found.push('over-beat');
  return found;
}

function timeParts(test: Noted): TimePart[][] {
  const { notes, metre } = test.phrase;
  const beats = beatsOfBar(metre);
  // Limits of tempo classes: 76 and 108 bound "andante … moderato" on a metronome's traditional scale.
  const tempo: TimePart = test.tempoBpm < 76 ? 'slow' : test.tempoBpm < 108 ? 'medium' : 'fast';
  const even = new Set(beats).size === 1;
  return notes.map((note, i) => {
    const at = inBeat(note.startTicks, beats);
    const found: TimePart[] = [placePart(at.offset, at.length), tempo];
    if (i > 0) found.push(...gapParts(note, notes[i - 1]!, beats));
    found.push(at.bar === 0 ? 'first-bar' : 'later-bars');
    if (even && beats[0] === 720) found.push('compound');
    if (!even || metre.beats === 5 || metre.beats === 7) found.push('odd-metre');
    return found;
  });
}

/** The parts of each written note, in the phrase's order. Pure; no part is listed twice for a note. */
export function partsOfNotes(test: Noted): NoteParts[] {
  const pitch = pitchParts(test);
  const time = timeParts(test);
  return test.phrase.notes.map((_, i) => ({ pitch: pitch[i]!, time: time[i]! }));
}

/** Parts as a bit set: bit i is part i of the channel's list (22 and 17 parts: well inside 31 bits). */
export function bits(parts: readonly (PitchPart | TimePart)[], channel: 'pitch' | 'time'): number {
  const names: readonly string[] = channel === 'pitch' ? PITCH_PARTS : TIME_PARTS;
  return parts.reduce((set, part) => set | (1 << names.indexOf(part)), 0);
}
