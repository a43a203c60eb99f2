import { apiOf, fetchSound, hasSound, StudioProblem } from '../../studio/index.ts';
import type { Membership } from '../../studio/index.ts';
import type { Attempt, SavedAudio } from '../../store/index.ts';
import { keptSound } from '../result/keptSound.ts';
import { keeper, record } from '../record/record.svelte.ts';
import { serverFetch } from './keeper.ts';
import { problemText } from './words.ts';

const member = (): Promise<Membership | null | undefined> => record.use((store) => store.studio.member());

/** Whether the sound of a take lies in the studio; false too where that cannot be asked. */
export async function liesInStudio({ studentId, id }: Attempt): Promise<boolean> {
  const own = await member();
  if (!own) return false;
  try {
    return await hasSound(await apiOf(serverFetch, '', own), studentId, id);
  } catch {
    return false;
  }
}

/**
 * Fetches the sound of a take to be heard, and keeps it where this device keeps sound, within its limit.
 * @returns the sound; null where none is there any more; or what stood in the way, as a sentence
 */
export async function fetchToHear({ studentId, id, order }: Attempt): Promise<SavedAudio | string | null> {
  const own = await member();
  if (!own) return null;
  try {
    const sound = await fetchSound(await apiOf(serverFetch, '', own), own, studentId, id);
    if (sound === null) return null;
    const saved: SavedAudio = { attemptId: id, studentId, order, ...sound };
    if (keptSound(saved) === null) return problemText('failed');
    const limit = (await keeper.soundLimitMb()) * 1e6;
    if (limit > 0) await record.use((store) => store.audio.save(id, sound, limit));
    return saved;
  } catch (error) {
    return problemText(error instanceof StudioProblem ? error.code : 'failed');
  }
}
