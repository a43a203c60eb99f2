import { readHomework } from '../../store/index.ts';
import type { HomeworkOffer } from '../../store/index.ts';
import { record } from './record.svelte.ts';

const KEY = 'homework';

/** Keeps the homework that a link brought, in place of any earlier. */
export const keepHomework = (fragment: string): Promise<unknown> =>
  record.use((store) => store.settings.set(KEY, fragment));

/** The homework kept last, or null. */
export async function keptHomework(): Promise<HomeworkOffer | null> {
  const fragment = await record.use((store) => store.settings.get(KEY));
  return typeof fragment === 'string' ? readHomework(fragment) : null;
}
