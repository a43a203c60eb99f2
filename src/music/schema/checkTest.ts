import * as v from 'valibot';
import type { PracticeTest } from '../score.ts';
import { practiceTest } from './test.ts';

/** What became of an unknown value that should be a test. `wrong`: one clause, "phrase.bars is 0, expected >=1". */
export type CheckedTest =
  | { readonly test: PracticeTest }
  | {
      /** `newer`: by its version, or by a word that this version does not know. */
      readonly why: 'newer' | 'none';
      readonly wrong: string;
    };

/** Words of the format that a later version may add to: kinds of test, backing styles, scales. */
const WORDS = [['kind'], ['style'], ['key', 'scale']] as const;
const PLAIN_WORD = /^[a-z][a-z -]*$/;

/** Checks an unknown value and hands it back as a test, or says what is wrong with it. Never throws. */
export function checkTest(json: unknown): CheckedTest {
  if (typeof json !== 'object' || json === null || Array.isArray(json))
    return { why: 'none', wrong: `it is ${shown(json)}, not an object` };
  const { version } = json as { version?: unknown };
  if (version !== 1)
    return typeof version === 'number' && Number.isInteger(version) && version > 1
      ? { why: 'newer', wrong: `it has version ${version}, this Twobar reads version 1` }
      : { why: 'none', wrong: `version is ${shown(version)}, not 1` };
  const parsed = v.safeParse(practiceTest, json, { abortEarly: true });
  if (parsed.success) return { test: parsed.output as unknown as PracticeTest };
  const issue = parsed.issues[0];
  const path = v.getDotPath(issue);
  if (path === null) {
    const noKey = /^key is .* which is no key$/.test(issue.message);
    return { why: noKey && isWord(json, ['key', 'scale']) ? 'newer' : 'none', wrong: issue.message };
  }
  if (issue.expected === 'never') return { why: 'none', wrong: `${path} is a key that no test has` };
  const ofAWord = WORDS.some((word) => word.join('.') === path && isWord(json, word));
  return {
    why: ofAWord ? 'newer' : 'none',
    wrong: `${path} is ${shown(issue.input)}, expected ${issue.expected ?? issue.message}`,
  };
}

function isWord(json: unknown, path: readonly string[]): boolean {
  const value = path.reduce<unknown>((at, key) => (at as Record<string, unknown> | null)?.[key], json);
  return typeof value === 'string' && PLAIN_WORD.test(value);
}

function shown(value: unknown): string {
  if (typeof value === 'number' || value === null || value === undefined) return String(value);
  const words = JSON.stringify(value) ?? typeof value;
  return words.length > 40 ? `${words.slice(0, 37)}...` : words;
}
