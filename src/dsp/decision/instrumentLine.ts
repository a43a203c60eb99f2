import type { Line } from './line.ts';

/** Is it a plucked string? Fitted by `npx tsx src/training/lines.ts` on 939 cross-validated takes, those without notes counting three times. */
export const INSTRUMENT_LINE: Line = {
  names: ['probability', 'salience', 'margin', 'unsteady', 'doubt', 'rate', 'attack', 'covered'],
  bias: 7.31,
  means: [0.887, 0.7889, 4.404, 1.35, -1.383, 0.6159, 1.347, 0.8368],
  deviations: [0.2162, 0.231, 1.256, 1.072, 1.013, 0.8733, 0.8142, 0.2444],
  weights: [1.777, 0.4895, 1.359, -1.375, -1.751, 1.267, 0.02512, 1.007],
};
