import * as v from 'valibot';
import { DIRECTIONS, NOTE_VALUES, SCALE_KINDS } from '../scales.ts';
import { LIMITS } from './limits.ts';
import { number, whole } from './parts.ts';

const tempo = number(LIMITS.tempoBpm);

/** One entry of a list of scales and arpeggios, for every door. */
export const scaleEntry = v.pipe(
  v.strictObject({
    tonic: v.pipe(v.string(), v.regex(/^[A-G](?:#|b)?$/)),
    kind: v.picklist(SCALE_KINDS),
    octaves: whole(LIMITS.octaves),
    string: v.nullable(whole([1, LIMITS.strings[1]])),
    position: v.nullable(whole(LIMITS.position)),
    direction: v.picklist(DIRECTIONS),
    values: v.picklist(NOTE_VALUES),
    tempo: v.pipe(
      v.strictTuple([tempo, tempo]),
      v.check(([slow, fast]) => slow <= fast, 'the slower tempo first'),
    ),
    swung: v.boolean(),
    byHeart: v.boolean(),
  }),
  v.check(({ swung, values }) => !swung || values === 'quavers', 'only quavers are swung'),
);
