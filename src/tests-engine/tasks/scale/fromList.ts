import type { ScaleTask } from '../../../music/task.ts';
import { makeRandom } from '../../material/random/random.ts';
import type { ScaleList } from '../../material/scales/index.ts';
import { makeScale, type ScaleRequest } from './make.ts';

/** How the scales of a list are asked; each draws its tempo by the seed. */
export type ListRequest = Pick<ScaleRequest, 'tuning' | 'click' | 'level'> & {
  readonly list: ScaleList;
  /** Unsigned 32-bit. */
  readonly seed: number;
};

/** Each entry of a list that its instrument can play, in the list's order. */
export function scalesOf({ list, seed, ...way }: ListRequest): ScaleTask[] {
  return list.entries.flatMap((named) => {
    try {
      return [makeScale({ ...way, named, instrument: list.instrument, seed })];
    } catch (error) {
      // What lies outside the instrument is left out; the list may have been made for another.
      if (error instanceof RangeError) return [];
      throw error;
    }
  });
}

/** So many of a list's scales, drawn without repeating any; all of them where there are fewer. */
export function drawScales(request: ListRequest, count: number): ScaleTask[] {
  const left = scalesOf(request);
  const random = makeRandom(request.seed, 6);
  return Array.from(
    { length: Math.min(count, left.length) },
    () => left.splice(random.below(left.length), 1)[0]!,
  );
}
