import * as v from 'valibot';
import { instrument, scaleEntry, text } from '../../../music/schema/index.ts';
import type { ScaleList } from './types.ts';

/** Entries of one list at most: more is no list that anyone practises. */
export const MOST_ENTRIES = 500;

const schema = v.strictObject({
  name: text(80),
  instrument,
  entries: v.pipe(v.array(scaleEntry), v.maxLength(MOST_ENTRIES)),
});

/** A list of scales from JSON; null for what is none. */
export function scaleList(json: unknown): ScaleList | null {
  const parsed = v.safeParse(schema, json, { abortEarly: true });
  return parsed.success ? parsed.output : null;
}
