import { middle } from '../../music/numbers.ts';
import { quantile } from './statistics.ts';
import type { PlacedNote } from './types.ts';

export interface LoudnessFacts {
  /** From the softest tenth to the loudest tenth, dB. */
  readonly spanDb: number | null;
  /** Middle level of the first, second and last third of the notes against that of all, dB. */
  readonly thirdsDb: readonly [number, number, number] | null;
}

/** Fewer notes say nothing of a shape. */
const FEWEST = 6;

export function loudnessFacts(notes: readonly PlacedNote[]): LoudnessFacts {
  const levels = notes.map(({ note }) => note.levelDb as number);
  if (levels.length < FEWEST) return { spanDb: null, thirdsDb: null };
  const all = middle(levels)!;
  const cut = [0, 1, 2, 3].map((k) => Math.round((k * levels.length) / 3));
  const third = (k: number): number => middle(levels.slice(cut[k], cut[k + 1]))! - all;
  return {
    spanDb: quantile(levels, 0.9)! - quantile(levels, 0.1)!,
    thirdsDb: [third(0), third(1), third(2)],
  };
}
