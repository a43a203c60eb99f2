/** The door of the store: everything a browser keeps of students, attempts and lessons. */
export { openStore } from './open.ts';
export type { OpenOptions, Store } from './open.ts';
export type { NewAttempt, NewOverride } from './attempts.ts';
export { backupDue, backupName } from './backup/reminder.ts';
export type { BackupReminder, BackupState } from './backup/reminder.ts';
export type { MergeReport } from './backup/merge.ts';
export { packTakes } from './backup/takes.ts';
export { effectiveMark, newestOverride } from './effective.ts';
export { homeworkFragment, readHomework } from './homework/homework.ts';
export type { Remark } from './homework/remarks.ts';
export type { HomeworkOffer } from './homework/homework.ts';
export { packResults, resultsFragment } from './homework/results.ts';
export type { ResultsReport } from './homework/results.ts';
export { askToKeep, storageState } from './persistence.ts';
export type { StorageState } from './persistence.ts';
export { ImportProblem, StoreProblem } from './problem.ts';
export type { ImportProblemCode, StoreProblemCode } from './problem.ts';
export type * from './types.ts';
