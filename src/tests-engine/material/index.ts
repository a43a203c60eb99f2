export {
  type LevelTestOptions,
  type TestOptions,
  GENERATOR_VERSION,
  levelTest,
  makeTest,
  prepareLevel,
} from './makeTest.ts';
export { type PositionName, POSITIONS } from './hand/positions.ts';
export { GENERATORS, type GeneratorVersion } from './generators.ts';
export { TestFormatError, parseTest } from './format/parseTest.ts';
export { LEVELS } from './levels/levels.ts';
export { type LevelMetre, type LevelParameters, type Style, STYLES } from './levels/types.ts';
export { type Figure, FIGURES } from './levels/figures.ts';
export {
  HIGHEST_CAPO,
  type Strings,
  type Tuning,
  TUNINGS,
  capoOf,
  standardTuning,
  tuningNamed,
  withCapo,
} from './hand/tunings.ts';
export { METRES, type MetreName, barTicks, beatLengths } from '../../music/metre.ts';
export {
  type Difficulty,
  type DifficultyPart,
  FULL_SHARE,
  difficulty,
  difficultyParts,
} from './difficulty/difficulty.ts';
export { metricWeights, syncopations } from './difficulty/syncopation.ts';
export { ShortCodeError, shortCode, testFromCode } from './code/shortCode.ts';
export { LevelFormatError, parseLevel } from './format/parseLevel.ts';
export { melodyStock } from './melody/lines.ts';
export { rhythmStock } from './rhythm/stock.ts';
export * from './quantise/index.ts';
export * from './reading/index.ts';
export * from './chords/index.ts';
export * from './scales/index.ts';
export * from './charts/index.ts';
