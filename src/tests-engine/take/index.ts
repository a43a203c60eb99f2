/** What of a recording is the take. */
export { countedSpan, OPEN_SPAN, takeOf, type TakeSpan } from './span.ts';
