import { ms } from '../signal/prepared.ts';
import type { Prepared } from '../signal/prepared.ts';
import { binOf, combScores, toothAt } from './comb.ts';
import type { Spectra } from './comb.ts';
import { LOWEST, PITCHES } from './salience.ts';

/** Under this growth the previous note's partials are only ringing on, dB. */
const STILL_DB = 2;
/** A new note's first four partials grow at least this much, median, dB. */
const NEW_DB = 7;
const FIRST = 4;
/** Both spectra are taken over equal lengths, at most 140 ms, at least 40 ms. */
const LONGEST = ms(140);
const SHORTEST = ms(40);

/**
 * The previous string rings over a new, softer note: if the partials of `midi` hardly grew at this attack, takes
 * what rang before off the spectrum and asks again.
 *
 * @param since where the previous note began @param at the attack @param until the next one; samples
 * @returns the new note's MIDI number, or null where the first answer stands
 */
export function ringingOver(
  take: Prepared,
  since: number,
  at: number,
  until: number,
  midi: number,
  spectra: Spectra,
): number | null {
  const width = Math.min(LONGEST, at - ms(3) - since, until - at - ms(10));
  if (width < SHORTEST) return null;
  const before = Float64Array.from(spectra.rooted(take.samples, at - ms(3) - width, at - ms(3)));
  const after = Float64Array.from(spectra.rooted(take.samples, at + ms(10), at + ms(10) + width));
  if (growth(before, after, midi) >= STILL_DB) return null;
  const rest = after.map((v, i) => Math.sqrt(Math.max(0, v * v - before[i]! * before[i]!)));
  const comb = combScores(rest, new Float64Array(PITCHES));
  let best = 0;
  for (let n = 1; n < PITCHES; n++) if (comb[n]! > comb[best]!) best = n;
  const other = LOWEST + best;
  return other !== midi && growth(before, after, other) > NEW_DB ? other : null;
}

/** Median growth of a pitch's first four partials, dB. */
export function growth(before: Float64Array, after: Float64Array, midi: number): number {
  const rises: number[] = [];
  for (let h = 1; h <= FIRST; h++) {
    const bin = h * binOf(midi);
    rises.push(40 * Math.log10((toothAt(after, bin) + 1e-4) / (toothAt(before, bin) + 1e-4)));
  }
  rises.sort((a, b) => a - b);
  return (rises[1]! + rises[2]!) / 2;
}
