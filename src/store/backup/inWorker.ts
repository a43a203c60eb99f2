import { StoreProblem } from '../problem.ts';
import type { ExportAnswer, ExportJob } from './export.worker.ts';

/**
 * Has a job of exporting done in a worker of its own.
 * @throws StoreProblem as the worker says, or 'failed' when the worker itself could not be loaded.
 */
export function inWorker(job: ExportJob): Promise<Uint8Array<ArrayBuffer>> {
  const worker = new Worker(new URL('./export.worker.ts', import.meta.url), { type: 'module' });
  return new Promise<Uint8Array<ArrayBuffer>>((resolve, reject) => {
    worker.onmessage = ({ data }: MessageEvent<ExportAnswer>) => {
      if ('bytes' in data) resolve(data.bytes);
      else reject(new StoreProblem(data.problem.code, data.problem.message));
    };
    worker.onerror = ({ message }) =>
      reject(new StoreProblem('failed', `the export worker failed: ${message}`));
    worker.postMessage(job);
  }).finally(() => worker.terminate());
}
