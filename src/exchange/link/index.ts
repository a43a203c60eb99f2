export { testFromWholeCode, testFromHash, testLink, wholeCode } from './code.ts';
