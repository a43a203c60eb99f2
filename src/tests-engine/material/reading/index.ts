export { READING_LEVELS } from './levels.ts';
export { type PageOptions, READING_VERSION, makePage, readingPage } from './makePage.ts';
export {
  READING_FULL_SHARE,
  type ReadingDifficulty,
  type ReadingPart,
  readingDifficulty,
} from './difficulty.ts';
export { isAltered, ledgerLines, signatureSize } from './staff.ts';
export type { DynamicWord, HandPosition, PageSign, ReadingLevel, ReadingPage } from './types.ts';
