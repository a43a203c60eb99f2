/** A rhythm figure: ticks (480 = a crotchet), silent ones negative; `held`: the first sound is tied over from before. */
export interface RhythmFigure {
  readonly parts: readonly number[];
  readonly held: boolean;
}

/** Written values of a figure's parts by ticks, longest first: value, dots, and whether it is of a triplet. */
const VALUES = [
  [960, 'h', 0, false],
  [720, 'q', 1, false],
  [480, 'q', 0, false],
  [360, '8', 1, false],
  [320, 'q', 0, true],
  [240, '8', 0, false],
  [160, '8', 0, true],
  [120, '16', 0, false],
] as const;

/** One sign of a figure. */
export interface FigureSign {
  readonly value: 'h' | 'q' | '8' | '16';
  readonly dots: 0 | 1;
  readonly rest: boolean;
  readonly triplet: boolean;
}

/** How the parts of a figure are written. @throws RangeError for a length that no single sign has */
export function figureSigns({ parts }: RhythmFigure): FigureSign[] {
  return parts.map((part) => {
    const found = VALUES.find(([ticks]) => ticks === Math.abs(part));
    if (!found) throw new RangeError(`a part of a figure is a written value, got ${part} ticks`);
    const [, value, dots, triplet] = found;
    return { value, dots, rest: part < 0, triplet };
  });
}

/** Signs under one beam: runs of two or more quavers or shorter without a rest between; first and last index of each. */
export function figureBeams(signs: readonly FigureSign[]): (readonly [number, number])[] {
  const found: [number, number][] = [];
  signs.forEach(({ value, rest }, i) => {
    if (rest || (value !== '8' && value !== '16')) return;
    const last = found.at(-1);
    if (last && last[1] === i - 1) last[1] = i;
    else found.push([i, i]);
  });
  return found.filter(([from, to]) => to > from);
}
