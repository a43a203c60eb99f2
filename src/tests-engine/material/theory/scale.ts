import type { SpelledScale } from '../../../music/key.ts';

export { spelledScale, type SpelledScale } from '../../../music/key.ts';

/** Scale notes between two offsets from the tonic (inclusive), in semitones from the tonic, rising. */
export function ladder(scale: SpelledScale, low: number, high: number): number[] {
  const rungs: number[] = [];
  for (let offset = low; offset <= high; offset++)
    if (scale.steps.includes(((offset % 12) + 12) % 12)) rungs.push(offset);
  return rungs;
}
