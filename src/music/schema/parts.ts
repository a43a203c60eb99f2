import * as v from 'valibot';
import { LIMITS } from './limits.ts';

/** The small checks that schemas share. All refuse NaN and infinities. */
export type Range = readonly [low: number, high: number];

export const number = ([low, high]: Range) =>
  v.pipe(v.number(), v.finite(), v.minValue(low), v.maxValue(high));
export const whole = ([low, high]: Range) =>
  v.pipe(v.number(), v.integer(), v.minValue(low), v.maxValue(high));
export const text = (longest: number) => v.pipe(v.string(), v.maxLength(longest));
export const list = <S extends v.GenericSchema>(item: S, [fewest, most]: Range) =>
  v.pipe(v.array(item), v.minLength(fewest), v.maxLength(most));

export const instrument = v.picklist(['guitar', 'bass']);
export const manner = v.picklist(['strict', 'relaxed']);
/** 32 hex digits: 128 random bits. */
export const id = v.pipe(v.string(), v.regex(/^[0-9a-f]{32}$/));
export const points = number(LIMITS.points);
export const measure = number(LIMITS.measure);
/** Milliseconds since 1970 UTC. */
export const instant = whole(LIMITS.instantMs);
/** Where and why a value does not fit, in one line: "take.notes.0.midi: …". */
export function firstIssue(issues: readonly v.BaseIssue<unknown>[]): string {
  const issue = issues[0];
  if (!issue) return 'unknown';
  const path = v.getDotPath(issue);
  // A key that is missing has no value to say anything of.
  if (path && issue.message.startsWith('Invalid key: Expected "')) return `${path} must be given`;
  return path ? `${path}: ${issue.message}` : issue.message;
}
