// The generator's own door: marks and progress are not needed here, and half of the time of a short run is loading.
import {
  LEVELS,
  makeChords,
  makeTest,
  SHAPE_FAMILIES,
  type ShapeFamily,
} from '../../tests-engine/material/index.ts';
import type { TestKind } from '../../music/score.ts';
import type { NotesTask } from '../../music/task.ts';
import { given, UsageError, type Io } from '../io.ts';
import { Options } from '../options.ts';

const HIGHEST_SEED = 0xffffffff;
/** Enough for any corpus; at 2,000 a second it takes eight minutes. */
const MOST = 1_000_000;
/** Tests are handed out in bundles: one write a test costs more than the test. */
const BUNDLE = 200;

/** `make`: tests as JSON, one a line, of consecutive seeds; or one test as MusicXML or MIDI; or a whole sitting. */
export async function make(args: readonly string[], io: Io): Promise<void> {
  if (args.some((arg) => /^--sitting(=|$)/.test(arg)))
    return (await import('./sitting.ts')).makeSitting(args, io);
  const options = new Options(args, {
    kind: 'value',
    level: 'value',
    seed: 'value',
    instrument: 'value',
    count: 'value',
    format: 'value',
    shapes: 'value',
    how: 'value',
    length: 'value',
    tempo: 'value',
    voicing: 'value',
    driven: 'flag',
    free: 'flag',
  });
  options.exactly();
  await LINES[options.choice('kind', KINDS)](options, io);
}

type Lines = (options: Options, io: Io) => void | Promise<void>;
/** How tests of each kind are made. */
const LINES = {
  melody: (options, io) => makeEarTests('melody', options, io),
  rhythm: (options, io) => makeEarTests('rhythm', options, io),
  reading: makePages,
  scale: makeScales,
  improvising: makeCharts,
  chords: makeChordLines,
} satisfies Record<string, Lines>;
const KINDS = Object.keys(LINES) as (keyof typeof LINES)[];

/** What all kinds with a ladder of levels are asked by. */
function ladderOptions(options: Options) {
  for (const name of CHORDS_ONLY)
    if (options.text(name) !== null || options.flag(name))
      throw new UsageError(`--${name} goes with --kind chords`);
  const level = options.whole('level', 1, LEVELS.length);
  const seed = options.whole('seed', 0, HIGHEST_SEED);
  const instrument = options.choice('instrument', ['guitar', 'bass'], 'guitar');
  const count = options.whole('count', 1, Math.min(MOST, HIGHEST_SEED - seed + 1), 1);
  const format = options.choice('format', ['json', 'musicxml', 'midi'], 'json');
  return { level, seed, instrument, count, format };
}

async function makePages(options: Options, io: Io): Promise<void> {
  const { level, seed, instrument, ...way } = ladderOptions(options);
  const { makeReading } = await import('../../tests-engine/index.ts');
  const click = !options.flag('free');
  await handOut(way, io, (i) => makeReading({ level, seed: seed + i, instrument, click }));
}

/** Scales of our own list of the level: the seeds go through it, and draw each tempo. */
async function makeScales(options: Options, io: Io): Promise<void> {
  const { level, seed, instrument, ...way } = ladderOptions(options);
  const { levelList, makeScale } = await import('../../tests-engine/index.ts');
  const { entries } = levelList(level, instrument);
  const click = !options.flag('free');
  await handOut(way, io, (i) => {
    const named = entries[(seed + i) % entries.length]!;
    return makeScale({ named, instrument, level, seed: seed + i, click });
  });
}

/** Charts to improvise over; `--free`: with no click to the preparation. */
async function makeCharts(options: Options, io: Io): Promise<void> {
  const { level, seed, instrument, count, format } = ladderOptions(options);
  if (format !== 'json') throw new UsageError('a chart holds no notes: leave --format out');
  const { makeImprovising } = await import('../../tests-engine/index.ts');
  const prepareClick = !options.flag('free');
  printed(count, io, (i) =>
    given('make', () => makeImprovising({ level, seed: seed + i, instrument, prepareClick })),
  );
}

async function makeEarTests(kind: TestKind, options: Options, io: Io): Promise<void> {
  if (options.flag('free')) throw new UsageError('--free goes with --kind reading, scale or improvising');
  const { level, seed, instrument, ...way } = ladderOptions(options);
  await handOut(way, io, (i) => makeTest({ kind, level, seed: seed + i, instrument }));
}

/** So many tests of written notes in the format that is asked for; of a format of notes only one fits in a file. */
async function handOut(
  { count, format }: Pick<ReturnType<typeof ladderOptions>, 'count' | 'format'>,
  io: Io,
  make: (i: number) => NotesTask,
): Promise<void> {
  const test = (i: number): NotesTask => given('make', () => make(i));
  if (format === 'json') return printed(count, io, test);
  if (count !== 1) throw new UsageError(`--format ${format} gives one test; leave --count out`);
  const { testToMidi, testToMusicXml } = await import('../../exchange/index.ts');
  io.out(format === 'midi' ? testToMidi(test(0)) : testToMusicXml(test(0)));
}

/** Prints so many tests, one a line. */
function printed(count: number, io: Io, test: (i: number) => unknown): void {
  for (let from = 0; from < count; from += BUNDLE) {
    let lines = '';
    for (let i = from; i < Math.min(count, from + BUNDLE); i++) lines += `${JSON.stringify(test(i))}\n`;
    io.out(lines);
  }
}

const CHORDS_ONLY = ['shapes', 'how', 'length', 'tempo', 'voicing', 'driven'];
const USUAL_LENGTH = 8;
const USUAL_TEMPO = 72;

/** Lists and progressions of chords, one a line, of consecutive seeds. */
function makeChordLines(options: Options, io: Io): void {
  if (options.flag('free')) throw new UsageError('--free goes with --kind reading, scale or improvising');
  for (const name of ['level', 'instrument', 'format'])
    if (options.text(name) !== null) throw new UsageError(`--${name} does not go with --kind chords`);
  const seed = options.whole('seed', 0, HIGHEST_SEED);
  const count = options.whole('count', 1, Math.min(MOST, HIGHEST_SEED - seed + 1), 1);
  const families = (options.text('shapes') ?? 'open').split(',') as ShapeFamily[];
  const stranger = families.find((family) => !SHAPE_FAMILIES.includes(family));
  if (stranger !== undefined)
    throw new UsageError(`--shapes must be some of ${SHAPE_FAMILIES.join(',')}, got "${stranger}"`);
  const request = {
    families,
    how: options.choice('how', ['named', 'progression'], 'named'),
    count: options.whole('length', 1, 32, USUAL_LENGTH),
    voicing: options.choice('voicing', ['shape', 'any'], 'shape'),
    tempoBpm: options.number('tempo', 30, 240, USUAL_TEMPO),
    driven: options.flag('driven'),
  };
  for (let i = 0; i < count; i++)
    io.out(`${JSON.stringify(given('make', () => makeChords({ ...request, seed: seed + i })))}\n`);
}
