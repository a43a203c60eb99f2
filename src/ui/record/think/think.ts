import workerUrl from './think.worker.ts?worker&url';
import type { Answers, Thought, ThoughtAnswer } from './think.worker.ts';

/** Changes with the code that thinks: what was kept under another rule is worked out anew. */
export const RULE = workerUrl.split('/').pop()!;

interface Waiting {
  readonly done: (answer: never) => void;
  readonly fail: (error: Error) => void;
}
const waiting = new Map<number, Waiting>();
let worker: Worker | null = null;
let serial = 0;

function start(): Worker {
  const made = new Worker(workerUrl, { type: 'module' });
  made.onmessage = ({ data }: MessageEvent<ThoughtAnswer>) => {
    const one = waiting.get(data.id);
    waiting.delete(data.id);
    if ('failed' in data) one?.fail(new Error(data.failed));
    else one?.done(data.answer as never);
  };
  // One that could not be loaded answers nothing; the next question tries again.
  made.onerror = ({ message }) => {
    worker = null;
    for (const one of waiting.values()) one.fail(new Error(`the thinking worker failed: ${message}`));
    waiting.clear();
  };
  return made;
}

/** Has it worked out in the worker, which stays: what it has made of the ladder serves the next question. */
export function think<J extends Thought['job']>(
  thought: Extract<Thought, { readonly job: J }>,
): Promise<Answers[J]> {
  worker ??= start();
  const id = serial++;
  const answer = new Promise<Answers[J]>((done, fail) => waiting.set(id, { done, fail }));
  worker.postMessage({ id, thought });
  return answer;
}
