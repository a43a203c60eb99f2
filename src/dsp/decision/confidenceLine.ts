import type { Line } from './line.ts';

/** Is a note right, onset within 50 ms and pitch within 50 cents? Fitted by `npx tsx tests/bench/fit/lines.ts` on the notes of 606 cross-validated takes. */
export const CONFIDENCE_LINE: Line = {
  names: ['odds', 'salience', 'margin'],
  bias: 6.847,
  means: [5.61, -0.2028, 4.552],
  deviations: [1.35, 0.3776, 1.067],
  weights: [1.24, -0.2403, 1.217],
};
