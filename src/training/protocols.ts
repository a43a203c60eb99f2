import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { SPLITS } from '../../audio-fixtures/index.ts';
import { cacheFolder, DECIDING } from './cacheFolder.ts';
import type { Lesson } from './collect.ts';
import { crossFit } from './looks.ts';

/** What a take is decided by: looks that were fitted on the takes of the other folds. */
export const PROTOCOLS = {
  takes: { what: 'two-fold over takes', fold: (_: Lesson, i: number): number => i % 2 },
  banks: {
    what: 'bank-disjoint: fitted on split a, tested on b, and back',
    fold: ({ bank }: Lesson): number => ((SPLITS.a as readonly string[]).includes(bank) ? 0 : 1),
  },
} as const;
export type Protocol = keyof typeof PROTOCOLS;

/** Cross-fitted probabilities of the candidates of all {@link Lesson}s, fitted at first use and then read. */
export function chancesOf(lessons: readonly Lesson[], protocol: Protocol): Float64Array[] {
  const folder = cacheFolder('chances', DECIDING);
  const path = join(folder, `${protocol}-${lessons.length}-${lessons[0]!.id}.json`);
  if (existsSync(path))
    return (JSON.parse(readFileSync(path, 'utf8')) as number[][]).map((row) => Float64Array.from(row));
  const made = crossFit(lessons, PROTOCOLS[protocol].fold);
  mkdirSync(folder, { recursive: true });
  writeFileSync(path, JSON.stringify(made.map((row) => [...row])));
  return made;
}
