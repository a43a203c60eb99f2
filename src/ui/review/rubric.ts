import type { RubricLine } from '../../store/index.ts';

/** A teacher's own lines, and what they are marked with. */
export interface Rubric {
  readonly lines: readonly string[];
  readonly how: 'points' | 'words';
}

export const FEWEST = 3;
export const MOST = 6;
const SIGNS = 80;

/** What was kept, where it is one. */
export function readRubric(value: unknown): Rubric | null {
  const { lines, how } = (value ?? {}) as { lines?: unknown; how?: unknown };
  const fits =
    Array.isArray(lines) &&
    lines.length >= FEWEST &&
    lines.length <= MOST &&
    lines.every((line) => typeof line === 'string' && line.length <= SIGNS) &&
    (how === 'points' || how === 'words');
  return fits ? { lines: lines as string[], how } : null;
}

/** What was typed into a line as its value: null where it is empty; undefined where it is no number from 0 to 10. */
export function valueOf(typed: string, how: Rubric['how']): number | string | null | undefined {
  const plain = typed.trim();
  if (plain === '') return null;
  if (how === 'words') return plain.slice(0, SIGNS);
  const number = Number(plain.replace(',', '.'));
  return number >= 0 && number <= 10 ? number : undefined;
}

/** The lines with their values, as they are kept beside an attempt; those of a line that is gone go with it. */
export const filled = (lines: readonly string[], before: readonly RubricLine[]): RubricLine[] =>
  lines.map((text) => ({ text, value: before.find((line) => line.text === text)?.value ?? null }));
