import type { Instrument, Key, WrittenNote } from '../../../music/score.ts';
import { bpm, midi, ticks } from '../../../music/units.ts';
import { standardTuning } from '../hand/tunings.ts';
import { METRES } from '../../../music/metre.ts';
import { type Random, makeRandom } from '../random/random.ts';
import { spelledScale } from '../../../music/key.ts';
import { chromatic } from './approach.ts';
import { readingDifficulty } from './difficulty.ts';
import { type FormBar, drawForm } from './form.ts';
import { type LineNote, drawLine } from './line.ts';
import { rungsAt } from './rungs.ts';
import { READING_LEVELS } from './levels.ts';
import { drawSigns } from './signs.ts';
import type { HandPosition, ReadingLevel, ReadingPage } from './types.ts';

/** Raise it whenever the same request could give another page. */
export const READING_VERSION = 2;

export interface PageOptions {
  /** Unsigned 32-bit. */
  readonly seed: number;
  readonly instrument: Instrument;
  /** Sounding MIDI numbers of the open strings, lowest first; standard tuning when absent. */
  readonly tuning?: readonly number[];
  /** A key to keep to. */
  readonly key?: Key;
  /** Crotchets a minute, 30–240. */
  readonly tempoBpm?: number;
}

/** Keeps a page's draws apart from those of melodies (1) and rhythms (2) of the same seed. */
const STREAM = 3;
/** Draws after which the page nearest to the level's band is taken. Some one in three lies in it. */
const MOST_DRAWS = 400;
/** Farthest that the hand moves at once, frets. */
const FARTHEST_SHIFT = 4;
/** Fewest notes of the key under the hand that a bar can be made of: a sixth. */
const FEWEST_RUNGS = 6;

/**
 * A page of a level given by its parameters. The same options give the same page on every machine.
 * @throws RangeError naming the value and what is allowed, or the limit of the level that cannot be met.
 */
export function readingPage(level: ReadingLevel, options: PageOptions): ReadingPage {
  const { seed, instrument } = options;
  if (!Number.isInteger(seed) || seed < 0 || seed > 0xffffffff)
    throw new RangeError(`seed must be a whole number 0…4294967295, got ${seed}`);
  if (options.tempoBpm !== undefined && !(options.tempoBpm >= 30 && options.tempoBpm <= 240))
    throw new RangeError(`tempo must be 30…240 crotchets a minute, got ${options.tempoBpm}`);
  if (options.key) spelledScale(options.key);
  const random = makeRandom(seed, STREAM);
  let nearest: ReadingPage | null = null;
  let off = Infinity;
  for (let i = 0; i < MOST_DRAWS && off > 0; i++) {
    const page = drawPage(level, options, random);
    if (!page) continue;
    const { total } = readingDifficulty(page);
    const [low, high] = level.band ?? [-Infinity, Infinity];
    const here = Math.max(0, low - total, total - high);
    if (here < off) [nearest, off] = [page, here];
  }
  if (!nearest)
    throw new RangeError(
      `reading level "${level.name}" gives no page on this ${instrument}; allow more positions, keys or ledger lines`,
    );
  return options.tempoBpm === undefined ? nearest : { ...nearest, tempoBpm: bpm(options.tempoBpm) };
}

/** A page of one of our levels. @param level 1…10; @throws RangeError as {@link readingPage}. */
export function makePage(level: number, options: PageOptions): ReadingPage {
  const parameters = Number.isInteger(level) ? READING_LEVELS[level - 1] : undefined;
  if (!parameters)
    throw new RangeError(`level must be a whole number 1…${READING_LEVELS.length}, got ${level}`);
  return readingPage(parameters, options);
}

/** Where the hand stands: changes where a phrase begins, and, once those are used up, at other bar lines. */
function drawPositions(level: ReadingLevel, form: readonly FormBar[], random: Random): HandPosition[] {
  const [low, high] = level.positions;
  const [fewest, most] = level.shifts;
  const wanted = fewest + random.below(most - fewest + 1);
  const phrases = form.flatMap((_, bar) => (bar > 0 && form[bar - 1]!.cadence ? [bar] : []));
  const others = form.flatMap((_, bar) => (bar > 1 && bar % 2 === 0 && !phrases.includes(bar) ? [bar] : []));
  const places: number[] = [];
  while (places.length < wanted && phrases.length + others.length > 0) {
    const from = phrases.length > 0 ? phrases : others;
    places.push(...from.splice(random.below(from.length), 1));
  }
  const positions = [{ bar: 0, fret: low + random.below(high - low + 1) }];
  for (const bar of places.sort((a, b) => a - b)) {
    const { fret } = positions.at(-1)!;
    const near = Array.from({ length: high - low + 1 }, (_, i) => low + i).filter(
      (f) => Math.abs(f - fret) >= 2 && Math.abs(f - fret) <= FARTHEST_SHIFT,
    );
    if (near.length > 0) positions.push({ bar, fret: random.pick(near) });
  }
  return positions;
}

/** A hand needs a quaver and more to move: shorter values before a change of position are not playable at sight. */
const SHIFT_TICKS = 240;

function leavesTime(line: readonly LineNote[], positions: readonly HandPosition[]): boolean {
  return positions.slice(1).every(({ bar }) => {
    const first = line.findIndex((note) => note.bar >= bar);
    return line[first]!.startTicks - line[first - 1]!.startTicks >= SHIFT_TICKS;
  });
}

/** One draw; null where it leads nowhere. */
function drawPage(level: ReadingLevel, options: PageOptions, random: Random): ReadingPage | null {
  const { instrument } = options;
  const tuning = options.tuning ?? standardTuning(instrument).strings;
  const { scale, tonics } = random.pick(level.keys);
  const key = options.key ?? { tonic: random.pick(tonics), scale };
  const at = random.pick(level.metres);
  const metre = METRES[at.metre];
  const form = drawForm(level, at.metre, random.pick(at.forms), random);
  const held = new Set(form.flatMap(({ rhythm }) => rhythm.figures));
  if (!level.mustHold.some((figure) => held.has(figure))) return null;
  const positions = drawPositions(level, form, random);
  if (positions.length - 1 < level.shifts[0]) return null;
  const fretOf = (bar: number): number => positions.findLast((p) => p.bar <= bar)!.fret;
  const rungs = form.map((_, bar) => rungsAt(level, instrument, tuning, key, fretOf(bar)));
  if (rungs.some((set) => set.length < FEWEST_RUNGS)) return null;
  const line = drawLine({ level, metre, form, rungs }, random);
  if (!line || !leavesTime(line, positions)) return null;
  const written = line.map(({ startTicks, durationTicks, rung }): WrittenNote => {
    const { midi: pitch, spelling, string, fret } = rung;
    return {
      startTicks: ticks(startTicks),
      durationTicks: ticks(durationTicks),
      midi: midi(pitch),
      spelling,
      string,
      fret,
    };
  });
  const [fewest, most] = level.approachNotes;
  const { notes, turned } = chromatic(
    written,
    key,
    tuning,
    (note) => fretOf(line[written.indexOf(note)]!.bar),
    (i) =>
      line[i]!.bar !== line[i + 1]!.bar ||
      line[i - 1]!.bar !== line[i]!.bar ||
      form[line[i]!.bar]!.cadence !== null,
    fewest + random.below(most - fewest + 1),
    random,
  );
  if (turned < fewest) return null;
  const [slowest, fastest, step] = level.tempo;
  const tempo = slowest + step * random.below(Math.floor((fastest - slowest) / step) + 1);
  return {
    instrument,
    tuning: tuning.map(midi),
    key,
    tempoBpm: bpm(tempo),
    phrase: { metre, bars: form.length, notes },
    positions,
    signs: drawSigns(level, form, line, metre, random),
  };
}
