import * as v from 'valibot';
import { given, numberFrom, objectOf, shortly, thresholds, wordOf } from '../../music/schema/index.ts';
import type { MarkRequest, PlayedNote } from './types.ts';

/** Longest list accepted: 16 bars of semiquavers are 256 notes. Two lists as long take 36 MB to align. */
const MAX_NOTES = 1000;
/** Onsets may lie before the zero (a player who comes in early), but not a day away. */
const DAY_SEC = 86_400;

const onset = numberFrom([-DAY_SEC, DAY_SEC]);

/** A note with its length as duration or as end. */
const noteObject = v.pipe(
  objectOf(
    {
      onsetSec: onset,
      midi: v.optional(numberFrom([0, 127])),
      durationSec: v.optional(numberFrom([0, DAY_SEC])),
      offsetSec: v.optional(numberFrom([-DAY_SEC, 2 * DAY_SEC])),
      confidence: v.optional(numberFrom([0, 1])),
    },
    'a number or an object with onsetSec',
  ),
  v.check(
    ({ durationSec, offsetSec }) => durationSec === undefined || offsetSec === undefined,
    'has both durationSec and offsetSec; give one',
  ),
  v.forward(
    v.check(
      ({ onsetSec, offsetSec = onsetSec }) => offsetSec >= onsetSec && offsetSec <= onsetSec + DAY_SEC,
      ({ input }) => `must be ${input.onsetSec} to ${input.onsetSec + DAY_SEC}`,
    ),
    ['offsetSec'],
  ),
  v.transform(({ onsetSec, offsetSec, durationSec, midi, confidence }): PlayedNote => {
    const length = offsetSec === undefined ? durationSec : offsetSec - onsetSec;
    return {
      onsetSec,
      ...(length === undefined ? {} : { durationSec: length }),
      ...(midi === undefined ? {} : { midi }),
      ...(confidence === undefined ? {} : { confidence }),
    };
  }),
);

const note = v.lazy((value) =>
  typeof value === 'number'
    ? v.pipe(
        onset,
        v.transform((onsetSec): PlayedNote => ({ onsetSec })),
      )
    : noteObject,
);

/** Notes in order of onset. */
const noteList = v.pipe(
  v.array(v.unknown(), 'must be an array'),
  v.maxLength(
    MAX_NOTES,
    ({ input }) => `must hold 0 to ${MAX_NOTES} notes, got ${input.length}; mark a shorter passage`,
  ),
  v.array(note),
  v.rawCheck(({ dataset, addIssue }) => {
    if (!dataset.typed) return;
    let before = -Infinity;
    for (const [key, { onsetSec }] of dataset.value.entries()) {
      if (onsetSec < before) {
        const at = { type: 'array', origin: 'value', input: dataset.value, key, value: onsetSec } as const;
        addIssue({ message: `must not start before the note before it (${before} s)`, path: [at] });
        return;
      }
      before = onsetSec;
    }
  }),
);

/**
 * Checks a list of notes read from JSON: numbers (onsets in seconds) or objects
 * `{onsetSec, midi?, durationSec? | offsetSec?, confidence?}`, in order of onset.
 *
 * @throws TypeError or RangeError with one sentence that names the note and what is wrong
 */
export const parseNoteList = (json: unknown, what = 'notes'): PlayedNote[] => given(noteList, json, what);

export interface Pair extends MarkRequest {
  readonly id: string | number | null;
}

const pair = objectOf(
  {
    id: v.optional(v.nullable(v.union([v.string(), v.number()], 'must be a string or a number')), null),
    target: noteList,
    played: noteList,
    clock: v.optional(wordOf(['backing', 'free']), 'backing'),
    transposition: v.optional(wordOf(['none', 'octave', 'any']), 'none'),
    beatSec: v.exactOptional(numberFrom([0.05, 10])),
    beatsPerBar: v.exactOptional(numberFrom([1, 32])),
    level: v.exactOptional(numberFrom([1, 10])),
    latencyUncertaintyMs: v.exactOptional(numberFrom([0, 10_000])),
    thresholds: v.exactOptional(thresholds),
  },
  'a JSON object',
);

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
    throw new SyntaxError(`a pair must be one JSON object a line, got ${shortly(line.slice(0, 40))}`);
  }
  return given(pair, json, '');
}
