import { opened } from '../backup/inWorker.ts';
import type { HomeworkOffer } from './homework.ts';

/**
 * Homework from a link, opened and checked in a worker: whatever the link holds, the page answers.
 * @throws ImportProblem when it is cut off, altered, of a newer app, or holds what cannot be.
 */
export const openHomework = (fragment: string): Promise<HomeworkOffer> => opened('homework', fragment);
