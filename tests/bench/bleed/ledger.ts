import { appendFileSync, existsSync, mkdirSync, readFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';

const PATH = resolve(import.meta.dirname, '../../../.cache/bleed-results.jsonl');

interface Line {
  readonly key: string;
  readonly value: unknown;
}

let known: Map<string, unknown> | null = null;

function lines(): Map<string, unknown> {
  if (known) return known;
  known = new Map();
  if (existsSync(PATH))
    for (const line of readFileSync(PATH, 'utf8').split('\n'))
      if (line) {
        const { key, value } = JSON.parse(line) as Line;
        known.set(key, value);
      }
  return known;
}

/** The value kept under a key, by whatever run, or null. */
export const recall = <T>(key: string): T | null => (lines().get(key) as T | undefined) ?? null;

/** The value kept under a key; if there is none, works it out and keeps it. Runs may do so side by side. */
export async function once<T>(key: string, work: () => Promise<T>): Promise<T> {
  const kept = recall<T>(key);
  if (kept !== null) return kept;
  const value = await work();
  mkdirSync(dirname(PATH), { recursive: true });
  appendFileSync(PATH, `${JSON.stringify({ key, value })}\n`);
  lines().set(key, value);
  return value;
}
