import * as v from 'valibot';
import type { Range } from './parts.ts';

/**
 * Schemas whose refusals are sentences that a person can act on: "notes[2].midi must be 0 to 127, got 200". Each check
 * says what must be; {@link given} adds where it stands and what stood there.
 */

/** A finite number in a range. */
export const numberFrom = ([low, high]: Range) =>
  v.pipe(
    v.number('must be a finite number'),
    v.finite('must be a finite number'),
    v.check((x) => x >= low && x <= high, `must be ${low} to ${high}`),
  );

/** One of these words. */
export const wordOf = <const W extends readonly string[]>(words: W) =>
  v.picklist(words, `must be one of ${words.join(', ')}`);

/** An object of these keys and no others; `called` is what it must be where it is none. */
export const objectOf = <E extends v.ObjectEntries>(entries: E, called: string) =>
  v.pipe(
    // An array would pass for an object.
    v.custom<Record<string, unknown>>(
      (value) => typeof value === 'object' && value !== null && !Array.isArray(value),
      `must be ${called}`,
    ),
    v.strictObject(entries, ({ expected, path }) =>
      expected === 'never'
        ? `has the unknown key "${String(path?.at(-1)?.key)}"; known are ${Object.keys(entries).join(', ')}`
        : 'must be given',
    ),
  );

/** Checks of whole lists: how many, and in which order. */
const OF_LISTS = ['max_length', 'raw_check'];

/** Of a value, what fits into a sentence. */
export function shortly(value: unknown): string {
  if (typeof value === 'number' || value === undefined) return String(value);
  const words = JSON.stringify(value) ?? typeof value;
  return words.length > 40 ? `${words.slice(0, 40)}…` : words;
}

/** "[2].midi" of a path into a value. */
function placeOf(path: readonly { readonly key?: unknown }[]): string {
  return path.map(({ key }) => (typeof key === 'number' ? `[${key}]` : `.${String(key)}`)).join('');
}

/**
 * The value as the schema gives it back.
 * @param what it is called in the sentence; '' where the keys of the outermost object stand for themselves
 * @throws RangeError where a value of the right sort lies outside what is allowed, TypeError for any other
 */
export function given<S extends v.GenericSchema>(schema: S, value: unknown, what: string): v.InferOutput<S> {
  const parsed = v.safeParse(schema, value, { abortEarly: true });
  if (parsed.success) return parsed.output;
  const { message, path = [], type, input, expected } = parsed.issues[0];
  const isStrange = type === 'strict_object' && expected === 'never';
  const where = `${what}${placeOf(isStrange ? path.slice(0, -1) : path)}`.replace(/^\./, '');
  const found = path.at(-1)?.value ?? input;
  // What offers a remedy has said what it met.
  const tail = message.includes('; ') ? '' : `, got ${shortly(found)}`;
  const sentence = `${where === '' ? 'it' : where} ${message}${tail}`;
  const isOutside = (type === 'check' && typeof found === 'number') || OF_LISTS.includes(type);
  throw isOutside ? new RangeError(sentence) : new TypeError(sentence);
}
