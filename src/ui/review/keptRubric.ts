import { record } from '../record/record.svelte.ts';
import { readRubric, type Rubric } from './rubric.ts';

/** In the record's settings, so that a teacher's lines are in every backup. */
const KEY = 'rubric';

export const keptRubric = async (): Promise<Rubric | null> =>
  readRubric(await record.use((store) => store.settings.get(KEY)));

export async function keepRubric({ lines, how }: Rubric): Promise<void> {
  await record.use((store) => store.settings.set(KEY, { lines: [...lines], how }));
}
