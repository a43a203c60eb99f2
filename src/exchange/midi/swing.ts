import { TICKS_PER_QUARTER } from '../../music/units.ts';

/** How a file of ours says that its quavers swing: "swing 0.6667", the share of the beat that the first takes. */
export const swingMarker = (swing: number): string => `swing ${swing.toFixed(4)}`;

/** The swing that a marker tells, 0.5…0.75, or null where it tells something else. */
export function swingOfMarker(text: string): number | null {
  const told = /^swing (0\.\d{1,4})$/.exec(text.trim());
  const swing = told ? Number(told[1]) : NaN;
  if (!(swing > 0.5 && swing <= 0.75)) return null;
  // Four digits of two thirds.
  return Math.abs(swing - 2 / 3) < 0.0001 ? 2 / 3 : swing;
}

/** Sounding ticks back to written ones: the inverse of swing, in which no triplets are looked for. */
export function unswung(sounding: number, swing: number): number {
  const beat = Math.floor(sounding / TICKS_PER_QUARTER);
  const share = sounding / TICKS_PER_QUARTER - beat;
  const written = share <= swing ? share / (2 * swing) : 0.5 + (share - swing) / (2 * (1 - swing));
  return (beat + written) * TICKS_PER_QUARTER;
}
