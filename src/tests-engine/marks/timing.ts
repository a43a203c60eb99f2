import type { Answer } from './account.ts';
import { median, type Reading } from './search.ts';
import type { Mark } from './types.ts';
import { round } from './verdicts.ts';

/** Median absolute deviation to standard deviation of a normal distribution. */
const MAD_TO_SD = 1.4826;

/** Bias, unevenness and drift of the answered notes; written around `reading`'s own start and tempo. */
export function timing(answers: readonly Answer[], reading: Reading, biasSec: number): Mark['timing'] {
  const tempoRatio = round(1 / reading.rate, 1000);
  if (answers.length < 3) return { biasMs: null, unevennessMs: null, driftPercent: null, tempoRatio };
  const errors = answers.map((a) => a.e * reading.rate);
  const mid = median([...errors]);
  const spread = MAD_TO_SD * median(errors.map((e) => Math.abs(e - mid)));
  return {
    biasMs: round((mid + biasSec) * 1000),
    unevennessMs: round(spread * 1000),
    driftPercent: drift(answers, reading),
    tempoRatio,
  };
}

/** Tempo of the second half against the first, percent; null under six notes. */
function drift(answers: readonly Answer[], { frame }: Reading): number | null {
  if (answers.length < 6 || answers.some((a) => a.restart)) return null;
  const speed = (part: readonly Answer[]): number => {
    const slopes: number[] = [];
    for (let a = 0; a < part.length; a++)
      for (let b = a + 1; b < part.length; b++) {
        const written = frame.t[part[b].i] - frame.t[part[a].i];
        const played = frame.s[part[b].j] - frame.s[part[a].j];
        if (written > 0 && played > 0) slopes.push(written / played);
      }
    return slopes.length ? median(slopes) : 1;
  };
  const half = answers.length >> 1;
  return round((speed(answers.slice(half)) / speed(answers.slice(0, half + 1)) - 1) * 100);
}
