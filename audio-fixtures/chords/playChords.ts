import type { Bank } from '../banks/types.ts';
import { addHiss } from '../effects/noise.ts';
import { makeRandom } from '../random.ts';
import { peakTo } from '../take.ts';
import { rake, RATE, stroke } from './strum.ts';

/** One strum of a longer take: the notes to sound, lowest string first, from its first string to where the hand comes down. */
export interface PlayedStrum {
  readonly notes: readonly number[];
  readonly atSec: number;
  readonly untilSec: number;
  /** From string to string; default 6 ms. */
  readonly gapSec?: number;
}

/** A take of several strums by one instrument, mono at {@link RATE}; the same seed gives the same samples. */
export function playChords(
  bank: Bank,
  strums: readonly PlayedStrum[],
  { durationSec, seed }: { readonly durationSec: number; readonly seed: number },
): Float32Array<ArrayBuffer> {
  const random = makeRandom(seed);
  const signal = new Float32Array(Math.round(durationSec * RATE));
  for (const { notes, atSec, untilSec, gapSec = 0.006 } of strums) {
    const at = rake(notes.length, atSec, gapSec, random);
    stroke(
      signal,
      bank,
      notes.map((midi, i) => ({ midi, downDb: 0, atSec: at[i]! })),
      untilSec,
      random,
    );
  }
  addHiss(signal, -70, RATE, random.fork('hiss'));
  peakTo(signal, -8);
  return signal;
}
