import { HOP } from '../signal/prepared.ts';
import { floats } from '../signal/workspace.ts';
import { framesIn, LONG, PITCHES } from './pitchGrid.ts';
import type { PitchRows } from './pitchGrid.ts';
import { plainPitchRows } from './plainPitchRows.ts';
import { simdPitchRows } from './simdPitchRows.ts';

export { HALF_RATE, HIGHEST, LOWEST, PITCHES } from './pitchGrid.ts';

/** How periodic the signal is at each semitone, frame by frame; see {@link pitchFrames}. */
export interface PitchFrames extends PitchRows {
  readonly frames: number;
  /** `raw` after {@link gateSubharmonics}. */
  readonly gated: Float32Array;
}

/** Instant in samples at the working rate on which frame j is centred for a middling lag. */
export const frameCentre = (j: number): number => 2 * HOP * (j + LONG / 2) + FRAME_LAG;
const FRAME_LAG = 220;
/** The frame whose window begins at or after an instant, and the last whose window (lag included) ends by one. */
export const frameFrom = (at: number): number => Math.ceil(at / (2 * HOP));
export function frameUntil(at: number, lag: number): number {
  return Math.floor((at / 2 - lag) / HOP) - LONG;
}

/**
 * YIN's cumulative-mean-normalised difference (de Cheveigné & Kawahara, JASA 2002, equations 6 and 8) over two
 * windows, best value within ±50 cents of each semitone, every 5.8 ms.
 *
 * Changed: the windows' cross products are added up from blocks of one hop, so that both windows and all
 * overlapping frames share the multiplications; the value at a semitone is the mean of both windows, or the
 * long one's alone for the lowest pitches.
 *
 * @param half samples at {@link HALF_RATE}, scaled as `prepare` scales them
 */
export function pitchFrames(half: Float32Array): PitchFrames {
  const rows = simdPitchRows(half) ?? plainPitchRows(half);
  const frames = framesIn(half.length);
  const gated = floats(frames * PITCHES);
  for (let j = 0; j < frames; j++) gateSubharmonics(rows.raw, gated, j * PITCHES);
  return { ...rows, frames, gated };
}

/**
 * Intervals at which a lower pitch's harmonics lie: octave, twelfth, double octave … With 12, 19 and 24 alone
 * the answer becomes the fifth sub-harmonic.
 */
const ABOVE = [12, 19, 24, 28, 31, 34, 36, 38, 40, 42, 43];
/** A pitch survives only where none of its harmonics is 0.90 as periodic (McLeod & Wyvill's k, ICMC 2005), softly. */
const KEY = 0.9;
const SOFTNESS = 0.03;

function gateSubharmonics(raw: Float32Array, gated: Float32Array, at: number): void {
  for (let n = 0; n < PITCHES; n++) {
    const own = raw[at + n]!;
    let kept = own;
    for (const k of ABOVE) {
      if (n + k >= PITCHES || kept < 1e-3) break;
      const z = (raw[at + n + k]! - KEY * own) / SOFTNESS;
      if (z > -7) kept /= 1 + Math.exp(z);
    }
    gated[at + n] = kept;
  }
}
