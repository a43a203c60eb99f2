export { CHART_LEVELS, type ChartForm, type ChartLevel } from './levels.ts';
export { CHARTS_VERSION, type ChartRequest, chordOf, isPlayable, makeChart } from './makeChart.ts';
export { chordScale, type ChordScale } from './scales.ts';
