import * as v from 'valibot';
import { parseChord } from '../chords/chord.ts';
import { STYLES } from '../styles.ts';
import { barTicks } from '../metre.ts';
import { inMetre } from './inMetre.ts';
import { LIMITS } from './limits.ts';
import { instrument, list, number, type Range, whole } from './parts.ts';

/** Most chords of one test: two pages of a chart. */
const CHORDS = [1, 64] as const;

export const chordTestWith = (tempoBpm: Range) =>
  v.pipe(
    v.strictObject({
      version: v.literal(1),
      kind: v.literal('chords'),
      instrument,
      tuning: list(whole(LIMITS.openStringMidi), LIMITS.strings),
      seed: v.nullable(whole(LIMITS.seed)),
      tempoBpm: number(tempoBpm),
      metre: v.strictObject({
        beats: whole(LIMITS.beats),
        beatUnit: v.picklist(LIMITS.beatUnits),
        grouping: list(whole(LIMITS.beats), LIMITS.beats),
      }),
      bars: whole([1, CHORDS[1]]),
      chords: list(
        v.strictObject({
          symbol: v.pipe(
            v.string(),
            v.check((text) => parseChord(text) !== null, 'a chord name such as "F#m7"'),
          ),
          frets: v.nullable(list(v.nullable(whole(LIMITS.frets)), LIMITS.strings)),
          startTicks: v.nullable(whole(LIMITS.ticks)),
        }),
        CHORDS,
      ),
      driven: v.boolean(),
      prepareSec: number(LIMITS.practiceSec),
      style: v.exactOptional(v.picklist(STYLES)),
      said: v.exactOptional(v.literal(true)),
    }),
    v.check(
      ({ chords, tuning }) => chords.every(({ frets }) => frets === null || frets.length <= tuning.length),
      'a shape has more strings than the tuning',
    ),
    v.check(
      ({ chords }) => chords.every(({ frets }) => frets === null || frets.some((fret) => fret !== null)),
      'a shape strikes no string',
    ),
    v.check(
      ({ chords }) =>
        chords.every(
          ({ startTicks }, i) =>
            (startTicks === null) === (chords[0]!.startTicks === null) &&
            (i === 0 || startTicks === null || startTicks > chords[i - 1]!.startTicks!),
        ),
      'chords are due one after another, or none at a time',
    ),
    v.check(({ metre }) => inMetre(metre, 'metre') === null, 'the groups of the metre do not make its beats'),
    v.check(
      ({ style, chords, bars, metre }) =>
        style === undefined ||
        (chords[0]!.startTicks === 0 && chords.at(-1)!.startTicks! < bars * barTicks(metre)),
      'a band plays from the first bar line on, and every chord in its bars',
    ),
  );

/** What the JSON of a test of chords may hold, at every door. Strict, as tests of notes are. */
export const chordTest = chordTestWith(LIMITS.tempoBpm);
