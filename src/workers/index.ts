import { wrap, type Remote } from 'comlink';

/**
 * The far side of a worker, through which it is asked: `ask((far) => far.job(…))`. Comlink waits for ever for a worker
 * that could not be loaded; here what is under way and what is asked later rejects, `what` naming the worker.
 */
export function remote<Far>(
  worker: Worker,
  what: string,
): <Answer>(job: (far: Remote<Far>) => PromiseLike<Answer>) => Promise<Answer> {
  const far = wrap<Far>(worker);
  const failed = new Promise<never>((_, reject) => {
    worker.onerror = ({ message }) => reject(new Error(`${what} failed: ${message}`));
  });
  failed.catch(() => undefined);
  return (job) => Promise.race([job(far), failed]);
}
