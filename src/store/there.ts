import type { Table } from 'dexie';

/** From this many keys on it may pay to ask first which are there. */
const MANY = 50;
/** A table may hold so many rows for each key that is asked for: listing them all then costs less than asking for each. */
const ROWS_A_KEY = 20;

/**
 * As `bulkGet`, for when most are not there, as with rows that come in: a browser lists ten keys in the time in which it
 * answers for one.
 */
export async function getThoseThere<T>(
  table: Table<T, string>,
  keys: readonly string[],
): Promise<(T | undefined)[]> {
  if (keys.length < MANY || (await table.count()) > ROWS_A_KEY * keys.length) return table.bulkGet([...keys]);
  const all = new Set(await table.toCollection().primaryKeys());
  const there = [...new Set(keys)].filter((key) => all.has(key));
  const rows = there.length === 0 ? [] : await table.bulkGet(there);
  const found = new Map(there.map((key, i) => [key, rows[i]]));
  return keys.map((key) => found.get(key));
}
