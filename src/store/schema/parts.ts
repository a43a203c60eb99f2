import * as v from 'valibot';

/** The small checks that only the record needs; the others are in `music/schema`. */
export const name = v.pipe(v.string(), v.trim(), v.minLength(1), v.maxLength(60));
/** A day of the calendar, "2026-11-28" (ISO 8601). */
export const day = v.pipe(
  v.string(),
  v.regex(/^\d{4}-\d\d-\d\d$/),
  v.check((text) => {
    const date = new Date(`${text}T00:00:00Z`);
    return !Number.isNaN(date.getTime()) && date.toISOString().startsWith(text);
  }, 'no such day'),
);
