import type { BarShape } from './bar.ts';
import { crosses, partOf } from './bar.ts';
import { longestWithin, writtenValue } from './values.ts';

/** A stretch of a bar, in ticks from the bar line. */
export interface Stretch {
  readonly start: number;
  readonly end: number;
}

const isTernary = (length: number): boolean => length === 720 || length === 360;

/** May a note inside one beat stand as a single sign? `start`, `end` count from the beat. */
function fitsInBeat(start: number, end: number, beat: number): boolean {
  const length = end - start;
  const written = writtenValue(length);
  if (!written) return false;
  if (start === 0) return true;
  if (isTernary(beat)) {
    const third = beat / 3;
    return start % third === 0 || Math.floor(start / third) === Math.floor((end - 1) / third);
  }
  // A syncopation or a dotted value must stay within the next larger aligned value (short–long–short).
  const span = written.plainTicks * 2;
  return start % length === 0 || Math.floor(start / span) === Math.floor((end - 1) / span);
}

/**
 * May a note across beats stand as a single sign? Whole beats may; from an off-beat only a value that
 * leaves the bar's parts visible (crotchet or dotted crotchet after a quaver).
 */
function fitsAcrossBeats(start: number, end: number, shape: BarShape): boolean {
  const length = end - start;
  if (!writtenValue(length)) return false;
  const { beats } = shape;
  const beat = beats[partOf(beats, start) + 1]! - beats[partOf(beats, start)]!;
  const fromBeat = beats.includes(start);
  const toBeat = beats.includes(end);
  if (isTernary(beat) || beats.some((edge, i) => i > 0 && edge - beats[i - 1]! !== beat))
    return fromBeat && toBeat && !(crosses(shape.parts, start, end) && start !== 0);
  if (fromBeat && toBeat) return shape.ticks <= 1920 || !crosses(shape.parts, start, end);
  if (crosses(shape.parts, start, end)) return false;
  const half = beat / 2;
  if (fromBeat) return length === beat + half;
  return start % half === 0 && (length === beat || (length === beat + half && toBeat));
}

/** May a rest stand as a single sign? Rests show every beat; only halves of 4/4 and 12/8 rest as one. */
function restFits(start: number, end: number, shape: BarShape): boolean {
  const length = end - start;
  if (length === shape.ticks) return true;
  const written = writtenValue(length);
  if (!written) return false;
  const { beats, parts } = shape;
  const at = start - beats[partOf(beats, start)]!;
  const beat = beats[partOf(beats, start) + 1]! - beats[partOf(beats, start)]!;
  if (crosses(beats, start, end))
    return (
      parts.length === 3 &&
      parts.includes(start) &&
      parts.includes(end) &&
      (written.dots === 0 || isTernary(beat))
    );
  if (length === beat) return true;
  // Two thirds of a beat rest as one sign at its start only; at its end each third has its own.
  if (isTernary(beat))
    return at % (beat / 3) === 0
      ? written.dots === 0 && length <= (at === 0 ? beat / 1.5 : beat / 3)
      : at % length === 0;
  return written.dots === 0 && at % length === 0;
}

/** The strongest place strictly inside the stretch: a part, then a beat, then halves of a beat downwards. */
function strongestInside(start: number, end: number, shape: BarShape): number {
  for (const edges of [shape.parts, shape.beats]) {
    const inside = edges.filter((edge) => edge > start && edge < end);
    if (inside.length > 0) return inside[0]!;
  }
  const first = shape.beats[partOf(shape.beats, start)]!;
  const beat = shape.beats[partOf(shape.beats, start) + 1]! - first;
  for (let grid = isTernary(beat) ? beat / 3 : beat / 2; grid >= 30; grid /= 2) {
    const edge = first + (Math.floor((start - first) / grid) + 1) * grid;
    if (edge < end) return edge;
  }
  return start + longestWithin(end - start - 1);
}

/**
 * Splits a note or rest into stretches that single signs can show, following the usual rule of engraving
 * (E. Gould, Behind Bars, 2011, "Grouping note durations in a bar"): the bar's middle and its beats stay
 * visible; short–long–short syncopations inside them do not take ties.
 *
 * @param start @param end ticks from the bar line, within the bar.
 */
export function split(kind: 'note' | 'rest', start: number, end: number, shape: BarShape): Stretch[] {
  const single =
    kind === 'rest'
      ? restFits(start, end, shape)
      : crosses(shape.beats, start, end)
        ? fitsAcrossBeats(start, end, shape)
        : fitsInBeat(
            start - shape.beats[partOf(shape.beats, start)]!,
            end - shape.beats[partOf(shape.beats, start)]!,
            shape.beats[partOf(shape.beats, start) + 1]! - shape.beats[partOf(shape.beats, start)]!,
          );
  if (single) return [{ start, end }];
  const at = strongestInside(start, end, shape);
  if (!(at > start && at < end)) return [{ start, end }];
  return [...split(kind, start, at, shape), ...split(kind, at, end, shape)];
}
