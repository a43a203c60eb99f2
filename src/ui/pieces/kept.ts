import * as v from 'valibot';
import { pieceTask } from '../../music/schema/index.ts';
import type { PieceTask } from '../../music/task.ts';
import { record } from '../record/record.svelte.ts';

/** What pieces are kept under in the record's settings: their notes and times are in every backup, their recordings not. */
const KEY = 'pieces';
const MOST = 50;

/** Everything kept that can be read. */
export async function all(): Promise<PieceTask[]> {
  const kept = await record.use((store) => store.settings.get(KEY));
  if (!Array.isArray(kept)) return [];
  return kept.flatMap((one) => {
    const checked = v.safeParse(pieceTask, one, { abortEarly: true });
    return checked.success ? [checked.output as unknown as PieceTask] : [];
  });
}

async function write(list: readonly PieceTask[]): Promise<void> {
  const plain = JSON.parse(JSON.stringify(list)) as never;
  await record.use((store) => store.settings.set(KEY, plain));
}

/** Keeps a piece and its recording, in place of an earlier one with the same recording; the oldest go beyond fifty. */
export async function keep(
  task: PieceTask,
  track: { readonly id: string; readonly name: string; readonly bytes: Uint8Array<ArrayBuffer> },
): Promise<void> {
  const others = (await all()).filter((one) => one.track.id !== task.track.id);
  const { id, name, bytes } = track;
  await record.use((store) => store.tracks.put({ id, name, bytes }));
  await write([task, ...others].slice(0, MOST));
}

export const trackOf = async (task: PieceTask) =>
  (await record.use((store) => store.tracks.get(task.track.id))) ?? null;

export async function remove(task: PieceTask): Promise<void> {
  await record.use((store) => store.tracks.remove(task.track.id));
  await write((await all()).filter((one) => one.track.id !== task.track.id));
}
