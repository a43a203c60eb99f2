/** What any door may let in: one valibot schema a thing, with its limits in `limits.ts`. */
export { LIMITS } from './limits.ts';
export { firstIssue, id, instant, instrument, list, manner, measure, number, points } from './parts.ts';
export { text, whole } from './parts.ts';
export { given, numberFrom, objectOf, shortly, wordOf } from './sentence.ts';
export { checkedThresholds, parseThresholds, thresholds } from './thresholds.ts';
export { questionSet } from './questionSet.ts';
export type { Range } from './parts.ts';
export {
  anyTask,
  improvisingTask,
  pieceTask,
  practiceTest,
  readingTask,
  scaleTask,
  soundedTask,
} from './test.ts';
export { scaleEntry } from './scaleEntry.ts';
export { sittingRun, sittingSetup } from './sitting.ts';
export { chordTest } from './chordTest.ts';
export { checkTest, type CheckedTest } from './checkTest.ts';
export { checkTask, type CheckedTask } from './checkTask.ts';
export { type Covers, heardTake } from './take.ts';
export { anyVerdictKind, chordMark, described, keptForTeacher, mark, noteMark, verdictKind } from './mark.ts';
