import type { Answer } from './account.ts';
import { median } from '../../music/numbers.ts';
import type { Reading } from './placed.ts';
import type { Mark } from './types.ts';
import { round } from './verdicts.ts';

/** Median absolute deviation to standard deviation of a normal distribution. */
const MAD_TO_SD = 1.4826;

/** Bias, unevenness and drift of the answered notes; written around `reading`'s own start and tempo. */
export function timing(answers: readonly Answer[], reading: Reading, biasSec: number): Mark['timing'] {
  const tempoRatio = round(1 / reading.rate, 1000);
  if (answers.length < 3) return { biasMs: null, unevennessMs: null, driftPercent: null, tempoRatio };
  const mid = median(answers.map((a) => a.e * reading.rate));
  // Displaced passages are judged from note to note, so that a shift is not taken for unevenness.
  const errors = answers.map((a) => a.timeError * reading.rate);
  const own = median(errors);
  const spread = MAD_TO_SD * median(errors.map((e) => Math.abs(e - own)));
  return {
    biasMs: round((mid + biasSec) * 1000),
    unevennessMs: round(spread * 1000),
    driftPercent: drift(answers, reading),
    tempoRatio,
  };
}

/** Pairs of notes further off than 100 ms and this share of their distance hold a stumble, not a change of tempo. */
const STEADY_SEC = 0.1;
const STEADY_SHARE = 0.35;
/** Enough pairs for a median; longer takes are thinned out. */
const PAIRED_NOTES = 40;

/** Tempo of the second half against the first, percent; null under six notes. Medians of slopes (Theil 1950). */
function drift(answers: readonly Answer[], { frame }: Reading): number | null {
  if (answers.length < 6) return null;
  const speed = (part: readonly Answer[]): number => {
    const stride = Math.ceil(part.length / PAIRED_NOTES);
    const some = part.filter((_, k) => k % stride === 0);
    const slopes: number[] = [];
    for (const [k, a] of some.entries())
      for (const b of some.slice(k + 1)) {
        const due = frame.t[b.i]! - frame.t[a.i]!;
        const took = frame.s[b.j]! - frame.s[a.j]!;
        if (due <= 0 || took <= 0 || Math.abs(took - due) > STEADY_SEC + STEADY_SHARE * due) continue;
        slopes.push(due / took);
      }
    return slopes.length ? median(slopes) : 1;
  };
  const half = answers.length >> 1;
  return round((speed(answers.slice(half)) / speed(answers.slice(0, half + 1)) - 1) * 100);
}
