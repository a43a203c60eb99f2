export { fromListCode, isListCode, listCode } from './code.ts';
export { testFromWholeCode, testFromHash, testLink, wholeCode } from './code.ts';
