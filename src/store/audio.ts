import type { Context } from './context.ts';
import { asStoreProblem, StoreProblem, toStoreProblem } from './problem.ts';
import type { SavedAudio } from './types.ts';

export interface AudioUse {
  readonly takes: number;
  readonly bytes: number;
}

/** Saved sound of takes: only where the user turned it on; the oldest makes room for the newest. */
export function audio({ db }: Context) {
  const use = async (): Promise<AudioUse> => {
    const sizes = await db.audioSizes.toArray();
    return { takes: sizes.length, bytes: sizes.reduce((sum, { bytes }) => sum + bytes, 0) };
  };
  /** Deletes the oldest takes until no more than `limitBytes` are used. Only inside a transaction. */
  const makeRoom = async (limitBytes: number): Promise<number> => {
    let { bytes } = await use();
    const oldestFirst = await db.audioSizes.orderBy('order').toArray();
    let gone = 0;
    for (const { attemptId, bytes: size } of oldestFirst) {
      if (bytes <= limitBytes) break;
      await db.audio.delete(attemptId);
      await db.audioSizes.delete(attemptId);
      bytes -= size;
      gone += 1;
    }
    return gone;
  };
  const both = [db.audio, db.audioSizes];
  return {
    use: (): Promise<AudioUse> => asStoreProblem(use),

    get: (attemptId: string): Promise<SavedAudio | null> =>
      asStoreProblem(async () => (await db.audio.get(attemptId)) ?? null),

    /**
     * Saves the sound of an attempt that is already written. Marks never depend on it, so its loss loses
     * no attempt.
     * @param limitBytes space the user allows for sound in all; older takes go to stay under it
     * @returns how many older takes made room, or null when this one alone is over the limit (not saved)
     * @throws StoreProblem 'quota' when the disk is full even with no other sound kept
     */
    save: (
      attemptId: string,
      sound: Pick<SavedAudio, 'mime' | 'bytes'>,
      limitBytes: number,
    ): Promise<number | null> =>
      asStoreProblem(async () => {
        const { length } = sound.bytes;
        if (length > limitBytes) return null;
        for (let room = limitBytes; ; room = Math.min(room, (await use()).bytes + length) / 2)
          try {
            return await db.transaction('rw', [db.attempts, ...both], async () => {
              const attempt = await db.attempts.get(attemptId);
              if (!attempt) throw new StoreProblem('missing', `no attempt ${attemptId}`);
              const { studentId, order } = attempt;
              const gone = await makeRoom(Math.max(0, room - length));
              await db.audio.put({ attemptId, studentId, order, ...sound });
              await db.audioSizes.put({ attemptId, studentId, order, bytes: length });
              return gone;
            });
          } catch (error) {
            // The disk is full before the limit is: halve what is kept and try again, down to nothing.
            const full = toStoreProblem(error).code === 'quota';
            if (!full || (await use()).takes === 0 || room < length) throw error;
          }
      }),

    remove: (attemptId: string): Promise<void> =>
      asStoreProblem(() =>
        db.transaction('rw', both, async () => {
          await db.audio.delete(attemptId);
          await db.audioSizes.delete(attemptId);
        }),
      ),
    /** Lowers what is kept to a new limit; 0 deletes all sound. @returns how many takes went. */
    shrink: (limitBytes: number): Promise<number> =>
      asStoreProblem(() => db.transaction('rw', both, () => makeRoom(limitBytes))),
  };
}
