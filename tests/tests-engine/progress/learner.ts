/** The simulated student: see learner/. */
export { CREDITS } from './learner/credit.ts';
export type { Credit } from './learner/credit.ts';
export { learner } from './learner/learner.ts';
export type { Answer, Learner, LearnerOptions } from './learner/learner.ts';
export { source } from './learner/source.ts';
