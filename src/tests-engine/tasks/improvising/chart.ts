import type { Chart } from '../../../music/chart.ts';
import type { ImprovisingTask } from '../../../music/task.ts';

/** How often the backing runs: once to practise, once that counts. */
export const PASSES = 2;

export const chartOf = ({ phrase: { metre, bars }, ...task }: ImprovisingTask): Chart => ({
  key: task.key,
  metre,
  bars,
  chords: task.chart,
  style: task.style,
  tempoBpm: task.tempoBpm,
  swing: task.swing,
});
