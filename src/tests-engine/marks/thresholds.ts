import type { Outcome } from './types.ts';

/** Lowest marks for "there" and for "close"; a teacher's to set. */
export interface Thresholds {
  readonly there: number;
  readonly close: number;
}

/** On the graded takes a panel's 3.5 to 4 of 4 has a median mark of 90 and more, its 1.5 to 2.5 of 63 (README). */
export const DEFAULT_THRESHOLDS: Thresholds = { there: 85, close: 60 };

/** Which marks a threshold may be. */
export const THRESHOLD_RANGE = [0, 100] as const;

/**
 * Checks thresholds read from a form, a file or settings: `{there, close}`, marks of 0 to 100, `close` under `there`.
 *
 * @throws TypeError (no object, unknown or missing key, no number) or RangeError, one sentence with what is allowed
 */
export function parseThresholds(value: unknown): Thresholds {
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw new TypeError(`thresholds must be an object {there, close}, got ${JSON.stringify(value)}`);
  const found = value as Record<string, unknown>;
  for (const key of Object.keys(found))
    if (key !== 'there' && key !== 'close')
      throw new TypeError(`thresholds has the unknown key "${key}"; known are there, close`);
  const number = (key: 'there' | 'close'): number => {
    const x = found[key];
    if (typeof x !== 'number' || !Number.isFinite(x))
      throw new TypeError(`thresholds.${key} must be a finite number, got ${String(x)}`);
    const [low, high] = THRESHOLD_RANGE;
    if (x < low || x > high) throw new RangeError(`thresholds.${key} must be ${low} to ${high}, got ${x}`);
    return x;
  };
  const [there, close] = [number('there'), number('close')];
  if (close >= there)
    throw new RangeError(`thresholds.close must be under thresholds.there (${there}), got ${close}`);
  return { there, close };
}

/** The word for a mark of 0…100. */
export function outcomeOf(mark: number, { there, close }: Thresholds): Outcome {
  return mark >= there ? 'there' : mark >= close ? 'close' : 'not-yet';
}
