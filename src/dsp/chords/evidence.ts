import { upperMedian } from '../../music/numbers.ts';
import { LOWEST, PARTIALS_OVER } from './constants.ts';
import type { FittedShape } from './fitShape.ts';
import { INPUTS } from './inputs.ts';
import { score } from './network.ts';
import type { Network } from './network.ts';

/** Log-odds that stand for claims, for one shape. */
export interface ShapeEvidence {
  /** z of each candidate note, from `from` on. */
  readonly scores: Float64Array;
  readonly from: number;
  /** By class asked for: how sure it is that it sounds. */
  readonly asked: ReadonlyMap<number, number>;
  /** By class not asked for: the same. */
  readonly foreign: ReadonlyMap<number, number>;
  /** The surest chord note under the bass asked for. */
  readonly lower: { readonly midi: number; readonly logOdds: number } | null;
  /** Log-odds of the bass itself. */
  readonly bass: number;
}

/** A class asked for may sound in another octave: that counts once it is likelier than not by this. */
export const SURELY = 1;
/** Foreign notes are looked for up to so much over the highest note asked for, and at least to E4: beyond, partials look like notes. */
const ABOVE = 3;
const AT_LEAST = 64;

export function scoreShape(fit: FittedShape, network: Network): Float64Array {
  const scores = new Float64Array(fit.to - fit.from + 1);
  for (let i = 0; i < scores.length; i++) scores[i] = score(network, fit.inputs, i * INPUTS);
  return scores;
}

/**
 * @param byName the notes are not those of a fingering: high octaves among them may be partials, and so may what seems foreign there.
 * On one nylon guitar 2 of 16 right chords of C were told to hold the B that is the third partial of their E.
 */
export function evidenceOf(fit: FittedShape, scores: Float64Array, byName = false): ShapeEvidence {
  const { asked: notes, from } = fit;
  const bass = Math.min(...notes);
  const foreignTo = Math.max(Math.max(...notes) + ABOVE, AT_LEAST);
  const asked = new Map<number, number>();
  const foreign = new Map<number, number>();
  const classes = new Set(notes.map((midi) => midi % 12));
  let lower: { midi: number; logOdds: number } | null = null;
  const raise = (map: Map<number, number>, key: number, z: number): void => {
    if (!(z <= (map.get(key) ?? -Infinity))) map.set(key, z);
  };
  scores.forEach((z, i) => {
    const midi = from + i;
    const pitchClass = midi % 12;
    if (!classes.has(pitchClass)) {
      const partial = byName && midi > AT_LEAST && PARTIALS_OVER.some((over) => scores[i - over]! > SURELY);
      if (midi <= foreignTo && !partial) raise(foreign, pitchClass, z);
      return;
    }
    if (notes.includes(midi) || z > SURELY) raise(asked, pitchClass, z);
    // The bass an octave down is the same bass as far as a chord's name goes, and the first error of any pitch.
    if (midi < bass && pitchClass !== bass % 12 && (lower === null || z > lower.logOdds))
      lower = { midi, logOdds: z };
  });
  return { scores, from, asked, foreign, lower, bass: scores[bass - from]! };
}

/** Median of how far the asked notes' first partials would stand over the floor, dB. */
export function headroomDb(fit: FittedShape): number {
  const values: number[] = [];
  for (const midi of fit.asked) {
    const at = (midi - fit.from) * INPUTS;
    // Inputs 16…18: the floor against what the strum's reference lets expect, /10.
    for (let i = 0; i < 3; i++) values.push(-10 * fit.inputs[at + 16 + i]!);
  }
  return upperMedian(values);
}

/** Level of a note re the strum's reference, dB, at least −60. */
export const relativeDb = (fit: FittedShape, midi: number): number =>
  Math.max(-60, fit.gains.db[midi - LOWEST]! - fit.referenceDb);
