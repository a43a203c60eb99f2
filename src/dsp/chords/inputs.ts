import { LOWEST, SCORED } from './constants.ts';
import { explainedElsewhere, fittedPartials } from './elsewhere.ts';
import type { Gains } from './gains.ts';
import { partialLevels } from './partials.ts';
import type { PartialLevels } from './partials.ts';
import type { StrumSpectrum } from './strumSpectrum.ts';

/** Numbers that a note's score is made from: four for each of eight partials, and five of the whole note. */
export const INPUTS = 4 * SCORED + 5;

/** What is known of a strum once a shape has been fitted to it. */
export interface Fitted {
  readonly asked: readonly number[];
  readonly gains: Gains;
  /** Level that the asked notes have, dB; gains are read against it. */
  readonly referenceDb: number;
  readonly tuningCents: number;
}

const mean = (values: readonly number[]): number =>
  values.reduce((s, v) => s + v, 0) / Math.max(1, values.length);

/**
 * Reference level: mean of the louder half of the asked notes, but at least 6 dB under the three loudest notes of all, so that
 * a strum of quite other notes is not read against noise.
 */
export function referenceOf(gainsDb: Float64Array, asked: readonly number[]): number {
  const own = asked.map((midi) => gainsDb[midi - LOWEST]!).sort((a, b) => b - a);
  const all = Array.from(gainsDb).sort((a, b) => b - a);
  return Math.max(mean(own.slice(0, Math.ceil(own.length / 2))), mean(all.slice(0, 3)) - 6);
}

const clip = (value: number, low: number, high: number): number => Math.min(high, Math.max(low, value));

/** Levels of partials already measured, by note: they do not depend on the shape. */
export type LevelCache = Map<number, PartialLevels>;

/**
 * Makes the inputs of notes `from`…`to`, {@link INPUTS} numbers a note, in this order: level of partials 1–8 against what the
 * strum's reference lets expect; what other notes explain there; the floor there; deviations; the note's gain, its pitch, how many
 * notes are asked, whether it is asked, whether its class is.
 *
 * @param levelsDb mean levels of partials re a note's total, one row a note from `LOWEST`
 */
export function makeInputs(
  spectrum: StrumSpectrum,
  fitted: Fitted,
  levelsDb: readonly (readonly number[])[],
  from: number,
  to: number,
  cache: LevelCache = new Map(),
): Float64Array {
  const { asked, gains, referenceDb, tuningCents } = fitted;
  const out = new Float64Array((to - from + 1) * INPUTS);
  const all = fittedPartials(gains, tuningCents);
  const classes = new Set(asked.map((midi) => midi % 12));
  for (let midi = from; midi <= to; midi++) {
    let levels = cache.get(midi);
    if (!levels) cache.set(midi, (levels = partialLevels(spectrum, midi, tuningCents)));
    const at = (midi - from) * INPUTS;
    for (let i = 0; i < SCORED; i++) {
      if (i >= levels.count) {
        out[at + SCORED + i] = 1.5; // beyond the spectrum: as if wholly explained by others
        continue;
      }
      const expected = referenceDb + levelsDb[midi - LOWEST]![i]!;
      const elsewhere = 10 * Math.log10(explainedElsewhere(all, midi, levels.hz[i]!) + 1e-20);
      out[at + i] = clip(levels.db[i]! - expected, -45, 15) / 10;
      out[at + SCORED + i] = clip(elsewhere - expected, -45, 15) / 10;
      out[at + 2 * SCORED + i] = clip(levels.floorDb[i]! - expected, -45, 10) / 10;
      out[at + 3 * SCORED + i] = Math.abs(levels.cents[i]!) / 35;
    }
    const rest = at + 4 * SCORED;
    out[rest] = clip(gains.db[midi - LOWEST]! - referenceDb, -45, 15) / 10;
    out[rest + 1] = (midi - 57) / 12;
    out[rest + 2] = asked.length / 6;
    out[rest + 3] = asked.includes(midi) ? 1 : 0;
    out[rest + 4] = classes.has(midi % 12) ? 1 : 0;
  }
  return out;
}
