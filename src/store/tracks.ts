import type { Context } from './context.ts';
import { asStoreProblem } from './problem.ts';
import type { KeptTrack } from './types.ts';

/** Recordings of pieces, kept only where their owner asked for it. */
export function tracks({ db }: Context) {
  return {
    get: (id: string): Promise<KeptTrack | null> =>
      asStoreProblem(async () => (await db.tracks.get(id)) ?? null),
    /** @throws StoreProblem 'quota' when the disk is full */
    put: (track: KeptTrack): Promise<void> =>
      asStoreProblem(async () => {
        await db.tracks.put(track);
      }),
    remove: (id: string): Promise<void> => asStoreProblem(() => db.tracks.delete(id)),
  };
}
