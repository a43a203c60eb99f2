/** Written values by their length in ticks: plain, dotted, and triplet quavers. */
export const VALUES = [1920, 1440, 960, 720, 480, 360, 240, 180, 160, 120, 60] as const;
export type ValueTicks = (typeof VALUES)[number];

export const isValue = (ticks: number): ticks is ValueTicks => (VALUES as readonly number[]).includes(ticks);

/** Letters from C, and the semitones of the major scale on them. */
const LETTERS = 'CDEFGAB';
const MAJOR = [0, 2, 4, 5, 7, 9, 11];

/** "P5", "m3", "A4": an interval by its written size and its quality; null beyond an octave or doubly altered. */
export function intervalOf(
  low: { readonly spelling: string; readonly midi: number },
  high: { readonly spelling: string; readonly midi: number },
): string | null {
  const place = ({ spelling }: { readonly spelling: string }): number =>
    LETTERS.indexOf(spelling[0]!) + 7 * Number(/-?\d+$/.exec(spelling)![0]);
  const size = place(high) - place(low);
  if (size < 0 || size > 7) return null;
  const usual = size === 7 ? 12 : MAJOR[size]!;
  const off = high.midi - low.midi - usual;
  const perfect = [0, 3, 4, 7].includes(size);
  const quality = perfect
    ? ({ 0: 'P', 1: 'A', [-1]: 'd' } as Record<number, string>)[off]
    : ({ 0: 'M', [-1]: 'm', 1: 'A', [-2]: 'd' } as Record<number, string>)[off];
  return quality === undefined ? null : `${quality}${size + 1}`;
}
