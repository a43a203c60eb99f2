import type { Line } from './line.ts';

/** Is a note right, onset within 50 ms and pitch within 50 cents? Fitted by `npx tsx src/training/lines.ts` on the notes of 939 cross-validated takes. */
export const CONFIDENCE_LINE: Line = {
  names: ['odds', 'salience', 'margin'],
  bias: 6.723,
  means: [5.546, -0.2333, 4.508],
  deviations: [1.471, 0.4793, 1.117],
  weights: [1.305, -0.3705, 1.188],
};
