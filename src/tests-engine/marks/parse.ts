import { parseThresholds } from './thresholds.ts';
import type { Clock, MarkRequest, PlayedNote, TargetNote, Transposition } from './types.ts';

/** Longest list accepted: 16 bars of semiquavers are 256 notes. Two lists as long take 36 MB to align. */
const MAX_NOTES = 1000;

const FIELDS = ['onsetSec', 'midi', 'durationSec', 'offsetSec', 'confidence'] as const;
type Field = (typeof FIELDS)[number];

function numberAt(value: unknown, what: string, low: number, high: number): number {
  if (typeof value !== 'number' || !Number.isFinite(value))
    throw new TypeError(`${what} must be a finite number, got ${show(value)}`);
  if (value < low || value > high) throw new RangeError(`${what} must be ${low} to ${high}, got ${value}`);
  return value;
}

function show(value: unknown): string {
  if (typeof value === 'number' || value === undefined) return String(value);
  const text = JSON.stringify(value);
  return text.length > 40 ? `${text.slice(0, 40)}…` : text;
}

/** Onsets may lie before the zero (a player who comes in early), but not a day away. */
const DAY_SEC = 86_400;

function parseNote(value: unknown, what: string): PlayedNote {
  if (typeof value === 'number') return { onsetSec: numberAt(value, `${what} (onset)`, -DAY_SEC, DAY_SEC) };
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw new TypeError(`${what} must be a number or an object with onsetSec, got ${show(value)}`);
  const note = value as Record<string, unknown>;
  for (const key of Object.keys(note))
    if (!FIELDS.includes(key as Field))
      throw new TypeError(`${what} has the unknown key "${key}"; known are ${FIELDS.join(', ')}`);
  const onsetSec = numberAt(note['onsetSec'], `${what}.onsetSec`, -DAY_SEC, DAY_SEC);
  if (note['durationSec'] !== undefined && note['offsetSec'] !== undefined)
    throw new TypeError(`${what} has both durationSec and offsetSec; give one`);
  let durationSec: number | undefined;
  if (note['durationSec'] !== undefined)
    durationSec = numberAt(note['durationSec'], `${what}.durationSec`, 0, DAY_SEC);
  if (note['offsetSec'] !== undefined)
    durationSec = numberAt(note['offsetSec'], `${what}.offsetSec`, onsetSec, onsetSec + DAY_SEC) - onsetSec;
  return {
    onsetSec,
    ...(durationSec === undefined ? {} : { durationSec }),
    ...(note['midi'] === undefined ? {} : { midi: numberAt(note['midi'], `${what}.midi`, 0, 127) }),
    ...(note['confidence'] === undefined
      ? {}
      : { confidence: numberAt(note['confidence'], `${what}.confidence`, 0, 1) }),
  };
}

/**
 * Checks a list of notes read from JSON: numbers (onsets in seconds) or objects
 * `{onsetSec, midi?, durationSec? | offsetSec?, confidence?}`, in order of onset.
 *
 * @throws TypeError or RangeError with one sentence that names the note and what is wrong
 */
export function parseNoteList(json: unknown, what = 'notes'): PlayedNote[] {
  if (!Array.isArray(json)) throw new TypeError(`${what} must be an array, got ${show(json)}`);
  if (json.length > MAX_NOTES)
    throw new RangeError(
      `${what} must hold 0 to ${MAX_NOTES} notes, got ${json.length}; mark a shorter passage`,
    );
  const notes = json.map((value, k) => parseNote(value, `${what}[${k}]`));
  for (let k = 1; k < notes.length; k++)
    if (notes[k].onsetSec < notes[k - 1].onsetSec)
      throw new RangeError(
        `${what}[${k}] must not start before ${what}[${k - 1}] (${notes[k - 1].onsetSec} s), got ${notes[k].onsetSec}`,
      );
  return notes;
}

export interface Pair extends MarkRequest {
  readonly id: string | number | null;
}

const PAIR_KEYS = [
  'id',
  'target',
  'played',
  'clock',
  'transposition',
  'beatSec',
  'beatsPerBar',
  'level',
  'latencyUncertaintyMs',
  'thresholds',
] as const;
const CLOCKS: readonly Clock[] = ['backing', 'free'];
const TRANSPOSITIONS: readonly Transposition[] = ['none', 'octave', 'any'];

function choice<T extends string>(value: unknown, what: string, allowed: readonly T[], otherwise: T): T {
  if (value === undefined) return otherwise;
  if (!allowed.includes(value as T))
    throw new TypeError(`${what} must be one of ${allowed.join(', ')}, got ${show(value)}`);
  return value as T;
}

/**
 * One line of `mark --pairs`: `{id?, target, played, clock?, transposition?, …}`, where `clock` is
 * "backing" unless given and `transposition` "none". Unknown keys are refused.
 *
 * @throws SyntaxError, TypeError or RangeError with one sentence
 */
export function parsePairLine(line: string): Pair {
  let json: unknown;
  try {
    json = JSON.parse(line);
  } catch {
    throw new SyntaxError(`a pair must be one JSON object a line, got ${show(line.slice(0, 40))}`);
  }
  if (typeof json !== 'object' || json === null || Array.isArray(json))
    throw new TypeError(`a pair must be a JSON object, got ${show(json)}`);
  const pair = json as Record<string, unknown>;
  for (const key of Object.keys(pair))
    if (!PAIR_KEYS.includes(key as (typeof PAIR_KEYS)[number]))
      throw new TypeError(`a pair has the unknown key "${key}"; known are ${PAIR_KEYS.join(', ')}`);
  const { id } = pair;
  if (id !== undefined && id !== null && typeof id !== 'string' && typeof id !== 'number')
    throw new TypeError(`id must be a string or a number, got ${show(id)}`);
  const number = (key: (typeof PAIR_KEYS)[number], low: number, high: number): Record<string, number> =>
    pair[key] === undefined ? {} : { [key]: numberAt(pair[key], key, low, high) };
  const target: readonly TargetNote[] = parseNoteList(pair['target'], 'target');
  return {
    id: id ?? null,
    target,
    played: parseNoteList(pair['played'], 'played'),
    clock: choice(pair['clock'], 'clock', CLOCKS, 'backing'),
    transposition: choice(pair['transposition'], 'transposition', TRANSPOSITIONS, 'none'),
    ...number('beatSec', 0.05, 10),
    ...number('beatsPerBar', 1, 32),
    ...number('level', 1, 10),
    ...number('latencyUncertaintyMs', 0, 10_000),
    ...(pair['thresholds'] === undefined ? {} : { thresholds: parseThresholds(pair['thresholds']) }),
  };
}
