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
  const mid = median(answers.map((a) => a.e * reading.rate));
  // Displaced passages are judged from note to note, so that a shift is not taken for unevenness.
  const errors = answers.map((a) => a.timeError * reading.rate);
  const own = median([...errors]);
  const spread = MAD_TO_SD * median(errors.map((e) => Math.abs(e - own)));
  return {
    biasMs: round((mid + biasSec) * 1000),
    unevennessMs: round(spread * 1000),
    driftPercent: drift(answers, reading),
    tempoRatio,
  };
}

/** Steps further off than this are stumbles and displaced passages, not a change of tempo. */
const STEADY = 0.35;

/** Tempo of the second half against the first, percent; null under six notes. Stumbles are left out. */
function drift(answers: readonly Answer[], { frame }: Reading): number | null {
  if (answers.length < 6) return null;
  const speed = (from: number, to: number): number => {
    let written = 0;
    let played = 0;
    for (let k = from + 1; k < to; k++) {
      const due = frame.t[answers[k].i] - frame.t[answers[k - 1].i];
      const took = frame.s[answers[k].j] - frame.s[answers[k - 1].j];
      if (due <= 0 || Math.abs(took - due) > STEADY * due) continue;
      written += due;
      played += took;
    }
    return played > 0 ? written / played : 1;
  };
  const half = answers.length >> 1;
  return round((speed(half, answers.length) / speed(0, half + 1) - 1) * 100);
}
