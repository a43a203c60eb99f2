/** Hand positions that may be asked for, as the fret of the index finger; `open` with open strings, `any` all over the neck. */
export const POSITIONS = {
  open: [1, 1],
  II: [2, 2],
  V: [5, 5],
  VII: [7, 7],
  XII: [12, 12],
  any: [1, 15],
} as const satisfies Record<string, readonly [number, number]>;
export type PositionName = keyof typeof POSITIONS;
