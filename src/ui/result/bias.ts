import type { Mark } from '../../tests-engine/index.ts';

/** How the take as a whole lies, ms, + late; `uncounted` of it costs nothing and is not drawn on the strip. */
export interface Bias {
  readonly ms: number;
  readonly uncounted: number;
}

/** Under this it is on the beat, ms: nobody hears less (Friberg & Sundberg 1995). */
const ON_THE_BEAT_MS = 5;

/** Null where too few notes were matched to say. What is drawn and what is not counted add up to the whole. */
export function biasOf({ timing: { biasMs }, verdicts }: Pick<Mark, 'timing' | 'verdicts'>): Bias | null {
  if (biasMs === null) return null;
  const drawn = verdicts.flatMap(({ errorMs }) => errorMs ?? []).sort((a, b) => a - b);
  const mid = drawn.length >> 1;
  const middle = drawn.length % 2 ? drawn[mid]! : (drawn[mid - 1]! + drawn[mid]!) / 2;
  const side = Math.abs(biasMs) < ON_THE_BEAT_MS ? 0 : Math.sign(biasMs);
  const left = side * (biasMs - middle);
  const whole = side * biasMs;
  return {
    ms: side * Math.round(whole),
    uncounted: left < ON_THE_BEAT_MS ? 0 : Math.round(Math.min(left, whole)),
  };
}
