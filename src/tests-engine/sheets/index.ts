/** What sounds, whatever the task: counts, clicks and passages over a span. */
export { clickCues, clickFor, clickSheet } from './click.ts';
export { COUNT_IN_BARS, countInBars } from './countIn.ts';
export { alone, count, markBars, phraseCues, takeOver, voiceOf, type Passage } from './passage.ts';
export { draft, finish, joinSheets, LEAD_SEC, TAIL_SEC, type SheetDraft } from './sheet.ts';
