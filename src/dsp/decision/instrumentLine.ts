import type { Line } from './line.ts';

/** Is it a plucked string? Fitted as `tests/bench/fit/lines.ts` does (which itself has not been run yet) on 192 takes, those without notes counting three times. */
export const INSTRUMENT_LINE: Line = {
  names: ['probability', 'salience', 'margin', 'unsteady', 'doubt', 'rate', 'attack', 'covered'],
  bias: 3.843,
  means: [0.8273, 0.8011, 3.676, 1.719, -0.7923, 0.5519, 1.406, 0.7879],
  deviations: [0.2169, 0.2214, 1.323, 1.231, 1.167, 0.9098, 0.809, 0.2911],
  weights: [2.583, 0.1173, 0.7492, -1.037, -0.7993, 0.9084, -0.7492, 0.298],
};
