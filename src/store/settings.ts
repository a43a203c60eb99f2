import type { Context } from './context.ts';
import { asStoreProblem } from './problem.ts';
import { checkOwn } from './schema/index.ts';
import type { Json, Setting } from './types.ts';

/** Settings of the app by key. What a value means, and whether it fits, is for the reader to check. */
export function settings({ db }: Context) {
  return {
    get: (key: string): Promise<Json | null> =>
      asStoreProblem(async () => (await db.settings.get(key))?.value ?? null),
    set: (key: string, value: Json): Promise<void> =>
      asStoreProblem(async () => {
        await db.settings.put(checkOwn('settings', { key, value }) as Setting);
      }),
    remove: (key: string): Promise<void> => asStoreProblem(() => db.settings.delete(key)),
  };
}
