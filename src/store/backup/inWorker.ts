import { looseEnough } from '../blocks.ts';
import type { Database } from '../database.ts';
import { ImportProblem, StoreProblem } from '../problem.ts';
import type { StoreAnswer, StoreJobs } from './store.worker.ts';

/**
 * Has a job done in a worker of its own.
 * @param mostMs after so long it is ended; the default is for what is read from the own record, which ends by itself
 * @throws StoreProblem as the worker says, or 'failed' when the worker itself could not be loaded; ImportProblem as
 *   the worker says, or 'too-big' after `mostMs`.
 */
export function inWorker<J extends keyof StoreJobs>(
  what: J,
  given: StoreJobs[J]['given'],
  mostMs = Infinity,
): Promise<StoreJobs[J]['answer']> {
  const worker = new Worker(new URL('./store.worker.ts', import.meta.url), { type: 'module' });
  let timer: ReturnType<typeof setTimeout> | undefined;
  return new Promise<StoreJobs[J]['answer']>((resolve, reject) => {
    worker.onmessage = ({ data }: MessageEvent<StoreAnswer>) => {
      if ('answer' in data) resolve(data.answer as StoreJobs[J]['answer']);
      else if ('refused' in data) reject(new ImportProblem(data.refused.code, data.refused.message));
      else reject(new StoreProblem(data.problem.code, data.problem.message));
    };
    worker.onerror = ({ message }) =>
      reject(new StoreProblem('failed', `the store worker failed: ${message}`));
    if (Number.isFinite(mostMs))
      timer = setTimeout(() => reject(new ImportProblem('too-big', `no answer in ${mostMs} ms`)), mostMs);
    worker.postMessage({ what, given });
  }).finally(() => {
    clearTimeout(timer);
    worker.terminate();
  });
}

/** Longest look at what came from outside, ms: time to load the worker, and a second a MB, a slow phone's pace thrice over. */
const lookMs = (bytes: number): number => 5000 + bytes / 1000;

/** Opens and checks what came from outside, in a worker that is ended when it takes too long. @throws ImportProblem */
export const opened = <J extends 'backup' | 'results' | 'homework'>(
  what: J,
  given: StoreJobs[J]['given'],
): Promise<StoreJobs[J]['answer']> => inWorker(what, given, lookMs(given.length));

/** Packs where there is enough to pack, one job at a time. What goes wrong loses nothing: it is packed another time. */
export function packing(db: Database): () => void {
  let busy = false;
  return () => {
    if (busy) return;
    busy = true;
    const pack = async (): Promise<void> => {
      if (await looseEnough(db)) await inWorker('pack', { name: db.name });
    };
    void pack()
      .catch(() => undefined)
      .finally(() => (busy = false));
  };
}
