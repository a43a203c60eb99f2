import * as v from 'valibot';
import type { Thresholds } from '../outcome.ts';
import { LIMITS } from './limits.ts';
import { given, numberFrom, objectOf } from './sentence.ts';

const points = numberFrom(LIMITS.points);

/** Lowest marks for "there" and "close". */
export const thresholds = v.pipe(
  objectOf({ there: points, close: points }, 'an object {there, close}'),
  v.forward(
    v.check(
      ({ there, close }) => close < there,
      ({ input }) => `must be under thresholds.there (${input.there})`,
    ),
    ['close'],
  ),
);

/**
 * Checks thresholds read from a form, a file or settings.
 * @throws TypeError (no object, unknown or missing key, no number) or RangeError, one sentence with what is allowed
 */
export const parseThresholds = (value: unknown): Thresholds => given(thresholds, value, 'thresholds');

/** The same from whatever was kept or typed; null where they are none. */
export function checkedThresholds(value: unknown): Thresholds | null {
  const parsed = v.safeParse(thresholds, value);
  return parsed.success ? parsed.output : null;
}
