import type { Line } from './line.ts';

/** Is it a plucked string? Fitted by `npx tsx tests/bench/fit/lines.ts` on 606 cross-validated takes, those without notes counting three times. */
export const INSTRUMENT_LINE: Line = {
  names: ['probability', 'salience', 'margin', 'unsteady', 'doubt', 'rate', 'attack', 'covered'],
  bias: 6.482,
  means: [0.9169, 0.8009, 4.53, 1.334, -1.431, 0.6816, 1.397, 0.8428],
  deviations: [0.1705, 0.2162, 1.101, 1.037, 1.061, 0.8182, 0.7575, 0.2382],
  weights: [1.32, -0.5675, 0.9822, -1.415, -1.048, 0.6282, -0.1633, 1.736],
};
