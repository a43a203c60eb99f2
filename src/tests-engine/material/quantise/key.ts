import type { Key } from '../../../music/score.ts';
import { tonalDistances } from '../difficulty/tonal.ts';
import type { LineNote } from './types.ts';

/** The names with the fewest accidentals in the signature. */
const MAJOR_TONICS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'];
const MINOR_TONICS = ['C', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'G#', 'A', 'Bb', 'B'];
/**
 * A phrase that ends on a note rests on it: as much as a fifth of what a perfect fit is worth, so that it
 * decides between relatives, whose fits differ by less, and no more than that.
 */
const LAST_NOTE_BONUS = 0.2;

function correlation(a: readonly number[], b: readonly number[]): number {
  const mean = (list: readonly number[]) => list.reduce((sum, x) => sum + x, 0) / list.length;
  const [ma, mb] = [mean(a), mean(b)];
  let ab = 0;
  let aa = 0;
  let bb = 0;
  a.forEach((x, i) => {
    ab += (x - ma) * (b[i]! - mb);
    aa += (x - ma) ** 2;
    bb += (b[i]! - mb) ** 2;
  });
  return aa > 0 && bb > 0 ? ab / Math.sqrt(aa * bb) : 0;
}

/**
 * The major or minor key whose profile fits the durations of the twelve notes best (Krumhansl & Schmuckler's
 * method, in Krumhansl 1990, ch. 4), the last note counting for a tonic. No notes give C major.
 */
export function estimateKey(line: readonly LineNote[]): Key {
  const durations = Array<number>(12).fill(0);
  for (const note of line) durations[note.midi % 12]! += note.durationTicks;
  const last = line.at(-1)?.midi;
  let best = { tonic: 'C', scale: 'major' };
  let bestFit = -Infinity;
  for (const [scale, tonics] of [
    ['major', MAJOR_TONICS],
    ['minor', MINOR_TONICS],
  ] as const) {
    const fits = tonalDistances(scale === 'minor').map((distance) => -distance);
    tonics.forEach((tonic, pc) => {
      const turned = fits.map((_, i) => durations[(i + pc) % 12]!);
      const fit = correlation(turned, fits) + (last !== undefined && last % 12 === pc ? LAST_NOTE_BONUS : 0);
      if (fit > bestFit) {
        bestFit = fit;
        best = { tonic, scale };
      }
    });
  }
  return best;
}
