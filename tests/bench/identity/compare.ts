import { createHash } from 'node:crypto';
import type { Side } from './sides.ts';

/** One thing that either side is asked for. */
export interface Question {
  readonly id: string;
  readonly ask: (side: Side) => unknown;
}

/** What came of the questions of one part. */
export interface Compared {
  readonly part: string;
  readonly asked: number;
  readonly different: readonly string[];
  /** SHA-256 over all answers, of either side. */
  readonly hashes: readonly [was: string, is: string];
  /** Processor seconds of either side. */
  readonly seconds: readonly [was: number, is: number];
}

const timed = <T>(work: () => T): readonly [T, number] => {
  const from = process.cpuUsage();
  const value = work();
  const { user, system } = process.cpuUsage(from);
  return [value, (user + system) / 1e6];
};

/** Asks both sides each question, each first by turns, and compares the answers as JSON. */
export async function compare(
  part: string,
  { was, is }: { readonly was: Side; readonly is: Side },
  questions: Iterable<Question> | AsyncIterable<Question>,
): Promise<Compared> {
  const different: string[] = [];
  const digests = [createHash('sha256'), createHash('sha256')] as const;
  const seconds: [number, number] = [0, 0];
  let asked = 0;
  for await (const { id, ask } of questions) {
    const answers = ['', ''];
    for (const side of asked % 2 === 0 ? ([0, 1] as const) : ([1, 0] as const)) {
      const [answer, took] = timed(() => ask(side === 0 ? was : is));
      answers[side] = JSON.stringify(answer) ?? 'undefined';
      seconds[side] += took;
      digests[side].update(`${id} ${answers[side]}\n`);
    }
    if (answers[0] !== answers[1]) different.push(id);
    asked += 1;
  }
  const hashes = [digests[0].digest('hex').slice(0, 12), digests[1].digest('hex').slice(0, 12)] as const;
  return { part, asked, different, hashes, seconds };
}
