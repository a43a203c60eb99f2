import type { LineNote } from './types.ts';

/** Corrections by hand. Each gives a new line in order, without overlaps, inside the phrase; or the same one
 * where what was asked cannot be. Indices are of notes; times in ticks. */
export type Line = readonly LineNote[];

/** Semiquaver, quaver, triplet quaver, crotchet: what a correction moves by. */
export const EDIT_STEPS = [120, 240, 160, 480] as const;

const endOf = (note: LineNote): number => note.startTicks + note.durationTicks;
const swap = (line: Line, i: number, note: LineNote): LineNote[] =>
  line.map((old, k) => (k === i ? note : old));

/** Higher or lower, inside the instrument's range. */
export function movePitch(line: Line, i: number, by: number, range: readonly [number, number]): Line {
  const note = line[i];
  if (!note) return line;
  const midi = note.midi + by;
  return midi < range[0] || midi > range[1] ? line : swap(line, i, { ...note, midi });
}

/** All notes moved by as much; the line itself where any would leave the range. */
export function moveAll(line: Line, by: number, range: readonly [number, number]): Line {
  const moved = line.map((note) => ({ ...note, midi: note.midi + by }));
  return moved.every(({ midi }) => midi >= range[0] && midi <= range[1]) ? moved : line;
}

/**
 * Longer by a step: into the rest behind it, else into the start of the next note, which stays at least a
 * step long; shorter by a step: a rest follows.
 */
export function changeLength(line: Line, i: number, by: number, endTicks: number): Line {
  const note = line[i];
  if (!note) return line;
  const longer = { ...note, durationTicks: note.durationTicks + by };
  if (longer.durationTicks < Math.min(Math.abs(by), note.durationTicks) || longer.durationTicks <= 0)
    return line;
  const end = endOf(longer);
  const next = line[i + 1];
  if (end <= (next?.startTicks ?? endTicks)) return swap(line, i, longer);
  if (!next) return line;
  const rest = endOf(next) - end;
  if (rest < by) return line;
  return swap(swap(line, i, longer), i + 1, { ...next, startTicks: end, durationTicks: rest });
}

/** Earlier or later in the room between its neighbours; its length gives way, down to a step. */
export function moveStart(line: Line, i: number, by: number, endTicks: number): Line {
  const note = line[i];
  if (!note) return line;
  const startTicks = note.startTicks + by;
  const from = i > 0 ? line[i - 1]!.startTicks + Math.abs(by) : 0;
  const limit = line[i + 1]?.startTicks ?? endTicks;
  if (startTicks < from || startTicks >= limit) return line;
  const durationTicks = Math.min(note.durationTicks, limit - startTicks);
  const moved = swap(line, i, { ...note, startTicks, durationTicks });
  const before = moved[i - 1];
  if (!before || endOf(before) <= startTicks) return moved;
  return swap(moved, i - 1, { ...before, durationTicks: startTicks - before.startTicks });
}

/** Without the note; a phrase keeps one. */
export const removeNote = (line: Line, i: number): Line =>
  line.length > 1 && line[i] ? line.filter((_, k) => k !== i) : line;

/** A note of the same pitch after this one: in the rest behind it, else in its own second half. */
export function insertAfter(line: Line, i: number, step: number, endTicks: number): Line {
  const note = line[i];
  if (!note) return line;
  const limit = line[i + 1]?.startTicks ?? endTicks;
  const end = endOf(note);
  const insert = (before: LineNote, startTicks: number, durationTicks: number): LineNote[] => [
    ...line.slice(0, i),
    before,
    { ...note, startTicks, durationTicks },
    ...line.slice(i + 1),
  ];
  if (limit - end >= step) return insert(note, end, step);
  const half = Math.floor(note.durationTicks / 2 / step) * step;
  return half > 0 ? insert({ ...note, durationTicks: note.durationTicks - half }, end - half, half) : line;
}

/**
 * With a note more, at its own place: what sounds there ends before it, and it ends where the next one begins. The same
 * line where another begins there already, or it would begin outside the phrase.
 */
export function insertAt(line: Line, note: LineNote, endTicks: number): Line {
  const { startTicks } = note;
  if (startTicks < 0 || startTicks >= endTicks || line.some((one) => one.startTicks === startTicks))
    return line;
  const limit = line.find((one) => one.startTicks > startTicks)?.startTicks ?? endTicks;
  const before = line
    .filter((one) => one.startTicks < startTicks)
    .map((one) => ({ ...one, durationTicks: Math.min(one.durationTicks, startTicks - one.startTicks) }));
  const durationTicks = Math.min(note.durationTicks, limit - startTicks);
  return [...before, { ...note, durationTicks }, ...line.filter((one) => one.startTicks > startTicks)];
}

/** Cut to a number of bars: what begins behind the last bar line goes, what crosses it ends there. */
export function cutTo(line: Line, endTicks: number): Line {
  return line
    .filter((note) => note.startTicks < endTicks)
    .map((note) => ({ ...note, durationTicks: Math.min(note.durationTicks, endTicks - note.startTicks) }));
}
