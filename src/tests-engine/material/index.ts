export {
  type LevelTestOptions,
  type TestOptions,
  GENERATOR_VERSION,
  levelTest,
  makeTest,
} from './makeTest.ts';
export { TestFormatError, parseTest } from './format/parseTest.ts';
export { LEVELS } from './levels/levels.ts';
export { type LevelMetre, type LevelParameters, type Style, STYLES } from './levels/types.ts';
export { type Figure, FIGURES } from './levels/figures.ts';
export { type Tuning, TUNINGS, standardTuning } from './hand/tunings.ts';
export { METRES, type MetreName, barTicks, beatLengths, metreName } from './metre/metres.ts';
