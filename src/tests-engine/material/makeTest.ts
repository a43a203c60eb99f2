import { isHeard } from '../../music/kinds.ts';
import type { Instrument, Key, PracticeTest, TestKind } from '../../music/score.ts';
import { bpm, midi, sec, ticksToSec } from '../../music/units.ts';
import { harmonised } from '../backing/harmonised.ts';
import type { GeneratorVersion } from './generators.ts';
import { POSITIONS, type PositionName } from './hand/positions.ts';
import { standardTuning } from './hand/tunings.ts';
import { FIRST_LEVELS, LEVELS } from './levels/levels.ts';
import { type LevelParameters, STYLES, type Style } from './levels/types.ts';
import { MAKERS } from './makers.ts';
import { METRES, barTicks } from '../../music/metre.ts';
import { makeRandom } from './random/random.ts';
import { spelledScale } from './theory/scale.ts';

/**
 * Raise it whenever the same request could give another test (any change of levels, figures, stocks or the
 * order of draws): keep the generator before it beside the new one, run the hash test and put the new hash beside
 * the old, which must not change. Of a request with a position of one's own this does not hold: no code and no link
 * is a request with one, they carry the whole test.
 */
export const GENERATOR_VERSION: GeneratorVersion = 4;

export interface TestOptions {
  readonly kind: TestKind;
  /** Unsigned 32-bit. */
  readonly seed: number;
  readonly instrument: Instrument;
  /** Sounding MIDI numbers of the open strings, lowest first; the instrument's standard tuning when absent. */
  readonly tuning?: readonly number[];
  /** A key to keep to. Melodies only: a rhythm's key is that of the lowest string. */
  readonly key?: Key;
  readonly style?: Style;
  /** Where the hand is to be: a name of {@link POSITIONS}; as the level has it when absent. Melodies only. */
  readonly position?: PositionName;
  /** Crotchets a minute, 30–240. */
  readonly tempoBpm?: number;
  readonly procedure?: Partial<{ readonly hearings: number; readonly practiceSec: number }>;
}

export interface LevelTestOptions extends TestOptions {
  /** 1…10, see {@link LEVELS}. */
  readonly level: number;
}

/** Heard twice: the common practice this trains for; a setting like the rest of the procedure. */
const HEARINGS = 2;

function checkOptions(options: TestOptions): readonly number[] {
  const { kind, seed, instrument, style, tempoBpm, procedure } = options;
  if (!isHeard(kind)) throw new RangeError(`kind must be melody or rhythm, got ${String(kind)}`);
  if (instrument !== 'guitar' && instrument !== 'bass')
    throw new RangeError(`instrument must be guitar or bass, got ${String(instrument)}`);
  if (!Number.isInteger(seed) || seed < 0 || seed > 0xffffffff)
    throw new RangeError(`seed must be a whole number 0…4294967295, got ${seed}`);
  if (style !== undefined && !STYLES.includes(style))
    throw new RangeError(`style must be one of ${STYLES.join(', ')}, got ${String(style)}`);
  if (options.position !== undefined && !(options.position in POSITIONS))
    throw new RangeError(
      `position must be one of ${Object.keys(POSITIONS).join(', ')}, got ${String(options.position)}`,
    );
  if (tempoBpm !== undefined && !(tempoBpm >= 30 && tempoBpm <= 240))
    throw new RangeError(`tempo must be 30…240 crotchets a minute, got ${tempoBpm}`);
  const { hearings = HEARINGS, practiceSec = 0 } = procedure ?? {};
  if (!Number.isInteger(hearings) || hearings < 1 || hearings > 10)
    throw new RangeError(`hearings must be a whole number 1…10, got ${hearings}`);
  if (!(practiceSec >= 0 && practiceSec <= 600))
    throw new RangeError(`practiceSec must be 0…600 seconds, got ${practiceSec}`);
  const tuning = options.tuning ?? standardTuning(instrument).strings;
  if (
    tuning.length < 4 ||
    tuning.length > 8 ||
    !tuning.every((note) => Number.isInteger(note) && note >= 12 && note <= 84)
  )
    throw new RangeError(
      `a tuning is 4…8 MIDI numbers 12…84, lowest string first, got [${tuning.join(', ')}]`,
    );
  return tuning;
}

/**
 * A test of a level given by its parameters: one of our ten or a teacher's own. The same options give the
 * same test on every machine.
 * @param levelNumber stored in the test; null for a teacher's own level.
 * @throws RangeError naming the value and what is allowed, or the limit of the level that cannot be met.
 */
export function levelTest(
  level: LevelParameters,
  options: TestOptions,
  levelNumber: number | null = null,
  generator: GeneratorVersion = GENERATOR_VERSION,
): PracticeTest {
  const strings = checkOptions(options);
  if (options.key) spelledScale(options.key);
  const { kind, seed, instrument } = options;
  const random = makeRandom(seed, MAKERS[kind].stream);
  const at = level.metres[seed % level.metres.length]!;
  const walk = Math.floor(seed / level.metres.length);
  const style = options.style ?? random.pick(at.styles);
  const [slowest, fastest, step] = level.tempo;
  const drawn = slowest + step * random.below(Math.floor((fastest - slowest) / step) + 1);
  const tempo = options.tempoBpm ?? drawn;
  const swung = random.pick(level.swing);
  // Only the shuffle swings, and only where beats divide in two.
  const swing = style === 'shuffle' && METRES[at.metre].beatUnit === 4 ? swung : 0.5;
  const made = MAKERS[kind].make(
    {
      level,
      at,
      strings,
      walk,
      tempoBpm: drawn,
      asked: options.key ?? null,
      position: options.position ? POSITIONS[options.position] : null,
      generator,
    },
    random,
  );
  const { phrase } = made;
  const phraseSec = ticksToSec(barTicks(phrase.metre) * phrase.bars, tempo);
  const test: PracticeTest = {
    version: 1,
    kind,
    instrument,
    tuning: strings.map(midi),
    level: levelNumber,
    seed,
    tempoBpm: bpm(tempo),
    key: made.key,
    swing,
    style,
    phrase,
    question: made.question,
    procedure: {
      hearings: options.procedure?.hearings ?? HEARINGS,
      practiceSec: sec(options.procedure?.practiceSec ?? Math.ceil(phraseSec * level.practicePhrases)),
    },
  };
  return generator === 1 ? test : harmonised(test, generator);
}

/**
 * Builds ahead, a few milliseconds at a time, what the first test of a kind is drawn from: run it to its end, with
 * pauses where other work may be done, and {@link levelTest} answers at once. Left out or stopped early, tests
 * are the same.
 * @throws RangeError as {@link levelTest}, where the level's limits contradict each other.
 */
export function* prepareLevel(
  level: LevelParameters,
  { kind, key = null }: { readonly kind: TestKind; readonly key?: Key | null },
): Generator<void, void> {
  for (const at of level.metres)
    yield* MAKERS[kind].prepare({
      level,
      at,
      strings: [],
      walk: 0,
      tempoBpm: level.tempo[0],
      asked: key,
      generator: GENERATOR_VERSION,
    });
}

/** A test of one of our levels. @throws RangeError as {@link levelTest}. */
export function makeTest(
  options: LevelTestOptions,
  generator: GeneratorVersion = GENERATOR_VERSION,
): PracticeTest {
  const levels = generator === 1 ? FIRST_LEVELS : LEVELS;
  const level = Number.isInteger(options.level) ? levels[options.level - 1] : undefined;
  if (!level) throw new RangeError(`level must be a whole number 1…${levels.length}, got ${options.level}`);
  return levelTest(level, options, options.level, generator);
}
