import type { NoteValue } from './types.ts';

const VALUES: readonly (readonly [NoteValue, number])[] = [
  ['w', 1920],
  ['h', 960],
  ['q', 480],
  ['8', 240],
  ['16', 120],
  ['32', 60],
];

export interface WrittenValue {
  readonly value: NoteValue;
  readonly dots: 0 | 1;
  /** Ticks of the value without its dot. */
  readonly plainTicks: number;
}

/** What stands for anything shorter. */
export const SHORTEST: WrittenValue = { value: '32', dots: 0, plainTicks: 60 };

/** The single value that lasts `ticks`, or null where it takes a tie. */
export function writtenValue(ticks: number): WrittenValue | null {
  for (const [value, plainTicks] of VALUES) {
    if (ticks === plainTicks) return { value, dots: 0, plainTicks };
    if (ticks === plainTicks * 1.5) return { value, dots: 1, plainTicks };
  }
  return null;
}

/** The longest undotted value that fits into `ticks`; the last resort of an odd length. */
export function longestWithin(ticks: number): number {
  return VALUES.find(([, length]) => length <= ticks)?.[1] ?? ticks;
}
