import { AXIS_BINS, HIGHEST, LOWEST, PARTIALS } from '../../../src/dsp/chords/constants.ts';
import { makeDictionary } from '../../../src/dsp/chords/dictionary.ts';
import type { Column } from '../../../src/dsp/chords/dictionary.ts';
import type { PreparedStrum } from '../../../src/dsp/chords/fitShape.ts';
import { STEP_HZ } from '../../../src/dsp/chords/strumSpectrum.ts';
import { QUALITIES } from '../../../src/music/chords/index.ts';

/**
 * What plain methods say of the same spectrum, as two numbers each: how weak the weakest class asked for is, how strong the
 * strongest foreign one; or one, by how much another chord's template fits better. Greater accuses more.
 */
export interface BaselineScores {
  /** Cosine with the best template of any other chord, less that with the one asked for. */
  readonly template: readonly number[];
  readonly chroma: readonly number[];
  readonly nnls: readonly number[];
}

/** Power from 70 Hz to 2.1 kHz, square-rooted, summed over octaves (Fujishima 1999 with amplitudes). */
function chromaOf({ spectrum, tuning }: PreparedStrum): number[] {
  const chroma = new Array<number>(12).fill(0);
  for (let k = Math.ceil(70 / STEP_HZ); k * STEP_HZ < 2100; k++) {
    const midi = 69 + 12 * Math.log2((k * STEP_HZ) / 440) - tuning.cents / 100;
    chroma[((Math.round(midi) % 12) + 12) % 12]! += Math.sqrt(spectrum.power[k]!);
  }
  return chroma;
}

const cosine = (chroma: readonly number[], classes: readonly number[]): number =>
  classes.reduce((s, pc) => s + chroma[pc]!, 0) / (Math.hypot(...chroma) * Math.sqrt(classes.length));

const TEMPLATES = QUALITIES.flatMap(({ intervals }) =>
  Array.from({ length: 12 }, (_, root) => [...new Set(intervals.map((i) => (root + i) % 12))]),
);

/** A string's partials as a geometric row, 0.7 each (Mauch and Dixon 2010). */
const GEOMETRIC = Array.from({ length: HIGHEST - LOWEST + 1 }, () =>
  Array.from({ length: PARTIALS }, (_, n) => 20 * n * Math.log10(0.7)),
);
const columns: readonly Column[] = makeDictionary(GEOMETRIC).map((tilts) => tilts[1]!);
const STEPS = 150;

/** Amplitudes of notes by non-negative least squares, multiplicative steps (Lee and Seung 2001). */
function leastSquares(y: Float64Array, lowest: number): Float64Array {
  const from = Math.max(0, lowest - LOWEST);
  const h = new Float64Array(columns.length).fill(1e-3);
  const top = columns.map(({ bins, values }) => bins.reduce((s, b, i) => s + y[b]! * values[i]!, 0));
  const model = new Float64Array(AXIS_BINS);
  for (let step = 0; step < STEPS; step++) {
    model.fill(0);
    for (let j = from; j < columns.length; j++) {
      const { bins, values } = columns[j]!;
      for (let i = 0; i < bins.length; i++) model[bins[i]!]! += h[j]! * values[i]!;
    }
    for (let j = from; j < columns.length; j++) {
      const { bins, values } = columns[j]!;
      let below = 1e-12;
      for (let i = 0; i < bins.length; i++) below += model[bins[i]!]! * values[i]!;
      h[j]! *= top[j]! / below;
    }
  }
  h.fill(0, 0, from);
  return h;
}

function weakestAndForeign(strength: readonly number[], asked: ReadonlySet<number>): number[] {
  const top = Math.max(...strength);
  const db = strength.map((v) => 20 * Math.log10(Math.max(1e-6, v / top)));
  const weakest = Math.min(...[...asked].map((pc) => db[pc]!));
  const foreign = Math.max(-120, ...db.filter((_, pc) => !asked.has(pc)));
  return [-weakest, foreign];
}

export function baselineScores(
  strum: PreparedStrum,
  notes: readonly number[],
  lowest: number,
): BaselineScores {
  const asked = new Set(notes.map((midi) => midi % 12));
  const chroma = chromaOf(strum);
  const same = (t: readonly number[]): boolean => t.length === asked.size && t.every((pc) => asked.has(pc));
  const best = Math.max(...TEMPLATES.filter((t) => !same(t)).map((t) => cosine(chroma, t)));
  const gains = leastSquares(strum.axis, lowest);
  const byClass = new Array<number>(12).fill(0);
  gains.forEach((gain, i) => (byClass[(LOWEST + i) % 12] = Math.max(byClass[(LOWEST + i) % 12]!, gain)));
  return {
    template: [best - cosine(chroma, [...asked])],
    chroma: weakestAndForeign(chroma, asked),
    nnls: weakestAndForeign(byClass, asked),
  };
}
