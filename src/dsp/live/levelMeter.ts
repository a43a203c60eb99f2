import { amplitudeToDb } from '../../music/units.ts';
import type { LiveEarEvent } from './types.ts';

/** From here on a sample counts as clipped: the last step of 8-bit input, just under full scale. */
const CLIP = 0.99;
/** So many clipped samples in one report mean clipping; single ones are harmless. */
const CLIPPED_COUNT = 3;

/** Peak and RMS over stretches of `every` samples, whatever the blocks. Samples that are no numbers count as 0. */
export function createLevelMeter(
  every: number,
): (block: Float32Array, report: (e: LiveEarEvent) => void) => void {
  let count = 0;
  let peak = 0;
  let squares = 0;
  let clipped = 0;
  return (block, report) => {
    for (let i = 0; i < block.length; i++) {
      const size = Math.abs(block[i]!);
      if (size < Infinity) {
        if (size > peak) peak = size;
        if (size >= CLIP) clipped++;
        squares += size * size;
      }
      if (++count < every) continue;
      report({
        type: 'level',
        peakDb: amplitudeToDb(peak),
        rmsDb: amplitudeToDb(Math.sqrt(squares / count)),
        clipped: clipped >= CLIPPED_COUNT,
      });
      count = peak = squares = clipped = 0;
    }
  };
}
