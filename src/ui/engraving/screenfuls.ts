/** Where a drawn line of music stands below the first one's top, CSS px. */
export interface LinePlace {
  readonly top: number;
  readonly bottom: number;
}

/** The line before which a window `room` px high ends when line `first` stands at its top: whole lines, at least one. */
export function endOfScreen(lines: readonly LinePlace[], first: number, room: number): number {
  const top = lines[first]?.top ?? 0;
  const end = lines.findIndex(({ bottom }, i) => i > first && bottom - top > room);
  return end < 0 ? lines.length : end;
}

/** The first line of the window that ends before line `end`. */
export function startOfScreen(lines: readonly LinePlace[], end: number, room: number): number {
  const first = lines.findIndex((_, i) => endOfScreen(lines, i, room) >= end);
  return Math.max(0, first);
}

/** The line to stand at the top while `line` is played: itself, with the next ones below it; near the end the last window's. */
export const topWhile = (line: number, lines: readonly LinePlace[], room: number): number =>
  Math.min(Math.max(0, line), startOfScreen(lines, lines.length, room));
