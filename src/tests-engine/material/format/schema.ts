import * as v from 'valibot';
import { STYLES } from '../levels/types.ts';

/** What a test's JSON may hold. Strict: an unknown key is an error, so that nothing is silently dropped. */

const number = (low: number, high: number) => v.pipe(v.number(), v.minValue(low), v.maxValue(high));
const whole = (low: number, high: number) =>
  v.pipe(v.number(), v.integer(), v.minValue(low), v.maxValue(high));

/** The longest phrase that is a test: a teacher's own may have sixteen bars. */
export const MOST_BARS = 16;
/** Sixteen bars of 12/8 in semiquavers are 384 notes; more is no phrase. */
const MOST_NOTES = 384;
/** 16 bars of 16/4 in ticks bounds every time in a phrase. */
const MOST_TICKS = MOST_BARS * 16 * 4 * 480;

const metre = v.strictObject({
  beats: whole(1, 16),
  beatUnit: v.picklist([2, 4, 8, 16]),
  grouping: v.pipe(v.array(whole(1, 16)), v.minLength(1), v.maxLength(16)),
});

const note = v.strictObject({
  startTicks: whole(0, MOST_TICKS),
  durationTicks: whole(1, MOST_TICKS),
  midi: whole(0, 127),
  spelling: v.pipe(v.string(), v.regex(/^[A-G](?:#{1,2}|b{1,2})?-?\d$/, 'a spelling such as "Bb3"')),
  string: whole(1, 8),
  fret: whole(0, 24),
});

const phrase = v.strictObject({
  metre,
  bars: whole(1, MOST_BARS),
  notes: v.pipe(v.array(note), v.minLength(1), v.maxLength(MOST_NOTES)),
});

export const testSchema = v.strictObject({
  version: v.literal(1),
  kind: v.picklist(['melody', 'rhythm']),
  instrument: v.picklist(['guitar', 'bass']),
  tuning: v.pipe(v.array(whole(12, 84)), v.minLength(4), v.maxLength(8)),
  level: v.nullable(whole(1, 10)),
  seed: v.nullable(whole(0, 0xffffffff)),
  tempoBpm: number(30, 240),
  key: v.strictObject({
    tonic: v.pipe(v.string(), v.regex(/^[A-G](?:#|b)?$/, 'a tonic such as "F#"')),
    scale: v.pipe(v.string(), v.maxLength(40)),
  }),
  swing: number(0.5, 0.75),
  style: v.picklist(STYLES),
  phrase,
  question: v.nullable(v.strictObject({ other: phrase, answer: v.picklist(['A', 'B']) })),
  procedure: v.strictObject({ hearings: whole(1, 10), practiceSec: number(0, 600) }),
});
