import * as v from 'valibot';
import { FIGURES } from '../levels/figures.ts';
import { type LevelParameters, STYLES } from '../levels/types.ts';
import { METRES, type MetreName } from '../../../music/metre.ts';
import { spelledScale } from '../theory/scale.ts';

/** A JSON value that is no level. `message` is one sentence naming what is wrong and where. */
export class LevelFormatError extends Error {
  override readonly name = 'LevelFormatError';
}

const number = (low: number, high: number) => v.pipe(v.number(), v.minValue(low), v.maxValue(high));
const whole = (low: number, high: number) => v.pipe(number(low, high), v.integer());
const span = (low: number, high: number) =>
  v.pipe(
    v.strictTuple([whole(low, high), whole(low, high)]),
    v.check(([a, b]) => a <= b, 'the lower number first'),
  );
const some = <T extends v.GenericSchema>(item: T) => v.pipe(v.array(item), v.minLength(1), v.maxLength(60));
const degree = v.picklist([1, 3, 5]);
const figureId = v.picklist(FIGURES.map(({ id }) => id));
const band = v.nullable(v.strictTuple([number(0, 200), number(0, 200)]));

const levelSchema = v.strictObject({
  name: v.pipe(v.string(), v.minLength(1), v.maxLength(80)),
  reason: v.pipe(v.string(), v.maxLength(400)),
  scales: some(v.strictObject({ scale: v.string(), tonics: some(v.string()) })),
  ranges: some(
    v.pipe(
      v.strictTuple([whole(-12, 0), whole(5, 24)]),
      v.check(([low, high]) => high - low >= 7, 'a range of at least a fifth'),
    ),
  ),
  positions: span(1, 15),
  home: v.exactOptional(v.strictObject({ highestFret: whole(4, 24), percent: whole(0, 100) })),
  maxLeap: whole(2, 24),
  leapsPerBar: number(0, 8),
  maxStringCross: whole(1, 7),
  firstDegrees: some(degree),
  lastDegrees: some(degree),
  approachNotes: whole(0, 20),
  melodyFigures: some(figureId),
  rhythmFigures: some(figureId),
  tiesOverBars: v.boolean(),
  metres: some(
    v.strictObject({
      metre: v.picklist(Object.keys(METRES) as MetreName[]),
      melodyBars: v.picklist([2, 4]),
      rhythmBars: v.picklist([2, 4]),
      melodyNotes: span(1, 24),
      melodyLength: v.exactOptional(span(1, 96)),
      rhythmNotes: span(1, 48),
      styles: some(v.picklist(STYLES)),
    }),
  ),
  tempo: v.pipe(
    v.strictTuple([whole(30, 240), whole(30, 240), whole(1, 60)]),
    v.check(([slow, fast]) => slow <= fast, 'the slower tempo first'),
  ),
  swing: some(number(0.5, 0.75)),
  practicePhrases: number(0, 20),
  question: v.strictObject({ leastTicks: whole(60, 960), moves: v.picklist([1, 2]) }),
  melodyBand: band,
  rhythmBand: band,
});

/**
 * Checks an unknown value and hands it back as a level of a teacher's own.
 * @throws LevelFormatError when anything is missing, unknown or out of range. That its limits can be met
 * together is found out by the first test made from it ({@link levelTest} then says which cannot).
 */
export function parseLevel(json: unknown): LevelParameters {
  const parsed = v.safeParse(levelSchema, json, { abortEarly: true });
  if (!parsed.success) {
    const issue = parsed.issues[0];
    const what = issue.expected === 'never' ? 'is a key that no level has' : `is not right: ${issue.message}`;
    throw new LevelFormatError(
      `This is not a level Twobar can read: ${v.getDotPath(issue) ?? 'the whole'} ${what}.`,
    );
  }
  const level = parsed.output;
  for (const { scale, tonics } of level.scales)
    for (const tonic of tonics)
      try {
        spelledScale({ tonic, scale });
      } catch (error) {
        throw new LevelFormatError(`This is not a level Twobar can read: ${(error as Error).message}.`);
      }
  return level;
}
