import data from './levels.json' with { type: 'json' };

/** Mean level of partials 1–12 re a note's total, dB, one row a note from E1 on; `made` in the file says of what. */
export const LEVELS_DB: readonly (readonly number[])[] = data.levelsDb;
