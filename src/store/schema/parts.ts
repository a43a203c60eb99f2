import * as v from 'valibot';

/** The small checks that only the record needs; the others are in `music/schema`. */
export const name = v.pipe(v.string(), v.trim(), v.minLength(1), v.maxLength(60));
/** A million rows a table are beyond any lifetime of practice. */
export const MOST_ROWS = 1e6;
