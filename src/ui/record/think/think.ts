import type { Remote } from 'comlink';
import { remote } from '../../../workers/index.ts';
import workerUrl from './think.worker.ts?worker&url';
import type { Thinking } from './think.worker.ts';

/** Changes with the code that thinks: what was kept under another rule is worked out anew. */
export const RULE = workerUrl.split('/').pop()!;

let ask: ReturnType<typeof remote<Thinking>> | null = null;

/** One that could not be loaded answers nothing; the next question tries again. */
function start(): NonNullable<typeof ask> {
  const worker = new Worker(workerUrl, { type: 'module' });
  worker.addEventListener('error', () => (ask = null));
  return remote<Thinking>(worker, 'the thinking worker');
}

/** Has it worked out in the worker, which stays: what it has made of the ladder serves the next question. */
export async function think<Answer>(
  question: (thinking: Remote<Thinking>) => PromiseLike<Answer>,
): Promise<Answer> {
  ask ??= start();
  return ask(question);
}
