export { fromListCode, isListCode, listCode } from './code.ts';
export { codeFromFigures, codeInFigures, isInFigures } from './digits.ts';
export { testFromWholeCode, testFromHash, testLink, wholeCode } from './code.ts';
