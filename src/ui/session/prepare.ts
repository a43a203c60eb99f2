import type { Key, TestKind } from '../../music/score.ts';
import { LEVELS, prepareLevel } from '../../tests-engine/index.ts';
import type { LevelParameters } from '../../tests-engine/index.ts';

/** Longest stretch without a pause: a frame at 60 a second, so that a press is answered at once. */
const SLICE_MS = 12;

const pause = (): Promise<void> => new Promise((resolve) => setTimeout(resolve));

/**
 * Builds what the first test of a level is drawn from, while the page goes on answering. Called again for the
 * same level it has nothing left to do. Own levels whose limits contradict each other say so when a test is made.
 */
export async function prepareOwn(
  level: LevelParameters,
  kind: TestKind,
  key: Key | null = null,
): Promise<void> {
  const slices = prepareLevel(level, { kind, key });
  try {
    for (let began = performance.now(); !slices.next().done;)
      if (performance.now() - began > SLICE_MS) {
        await pause();
        began = performance.now();
      }
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
  }
}

/** The same for one of our ten. */
export const prepare = (level: number, kind: TestKind, key: Key | null = null): Promise<void> =>
  prepareOwn(LEVELS[level - 1]!, kind, key);
