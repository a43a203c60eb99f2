import * as v from 'valibot';
import { ID_PATTERN } from '../ids.ts';

/**
 * The small checks that the record schemas share. Limits are there to refuse the absurd, so that a
 * hostile file cannot fill the screen or the disk; they are ten times and more what the app writes.
 */
export const id = v.pipe(v.string(), v.regex(ID_PATTERN));
export const finite = v.pipe(v.number(), v.finite());
export const between = (low: number, high: number) => v.pipe(finite, v.minValue(low), v.maxValue(high));
export const whole = (low: number, high: number) =>
  v.pipe(v.number(), v.integer(), v.minValue(low), v.maxValue(high));
export const text = (longest: number) => v.pipe(v.string(), v.maxLength(longest));
export const name = v.pipe(v.string(), v.trim(), v.minLength(1), v.maxLength(60));
export const list = <S extends v.GenericSchema>(item: S, longest: number) =>
  v.pipe(v.array(item), v.maxLength(longest));
/** Milliseconds since 1970; the bound is the largest instant a JavaScript Date can hold. */
export const instant = whole(0, 8.64e15);
export const points = between(0, 100);
export const thresholds = v.pipe(
  v.strictObject({ there: points, close: points }),
  v.check(({ there, close }) => close < there, 'close must lie under there'),
);
export const manner = v.picklist(['strict', 'relaxed']);
export const instrument = v.picklist(['guitar', 'bass']);
