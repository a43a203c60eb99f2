import { looseEnough } from '../blocks.ts';
import type { Database } from '../database.ts';
import { StoreProblem } from '../problem.ts';
import type { StoreAnswer, StoreJob } from './store.worker.ts';

/**
 * Has a job done in a worker of its own. @returns the file, empty after a job that makes none
 * @throws StoreProblem as the worker says, or 'failed' when the worker itself could not be loaded.
 */
export function inWorker(job: StoreJob): Promise<Uint8Array<ArrayBuffer>> {
  const worker = new Worker(new URL('./store.worker.ts', import.meta.url), { type: 'module' });
  return new Promise<Uint8Array<ArrayBuffer>>((resolve, reject) => {
    worker.onmessage = ({ data }: MessageEvent<StoreAnswer>) => {
      if ('bytes' in data) resolve(data.bytes);
      else reject(new StoreProblem(data.problem.code, data.problem.message));
    };
    worker.onerror = ({ message }) =>
      reject(new StoreProblem('failed', `the store worker failed: ${message}`));
    worker.postMessage(job);
  }).finally(() => worker.terminate());
}

/** Packs where there is enough to pack, one job at a time. What goes wrong loses nothing: it is packed another time. */
export function packing(db: Database): () => void {
  let busy = false;
  return () => {
    if (busy) return;
    busy = true;
    const pack = async (): Promise<void> => {
      if (await looseEnough(db)) await inWorker({ name: db.name, what: 'pack', nowMs: 0 });
    };
    void pack()
      .catch(() => undefined)
      .finally(() => (busy = false));
  };
}
