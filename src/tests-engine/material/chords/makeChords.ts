import {
  chordSymbol,
  functionOf,
  nameAbove,
  type ChordTest,
  type TestChord,
} from '../../../music/chords/index.ts';
import { METRES, barTicks } from '../../../music/metre.ts';
import { bpm, midi, sec, ticks } from '../../../music/units.ts';
import type { Style } from '../../../music/styles.ts';
import { standardTuning } from '../hand/tunings.ts';
import { makeRandom, type Random } from '../random/random.ts';
import { isOfKey, sameRoot } from './inKey.ts';
import type { ChordEntry } from './list.ts';
import { CHORD_TONICS } from './tonics.ts';
import { CHORD_SHAPES, SHAPE_FAMILIES, type ChordShape, type ShapeFamily } from './shapes.ts';

/** Raise it whenever the same request could give another test. */
export const CHORDS_VERSION = 1;

/** What a list of chords asks for. */
export interface ChordRequest {
  /** Unsigned 32-bit. */
  readonly seed: number;
  /** Kinds of shape that may come, in any order. */
  readonly families: readonly ShapeFamily[];
  /** One by one, when the player is ready; or a progression in time, a bar a chord. */
  readonly how: 'named' | 'progression';
  /** 1…32 chords. */
  readonly count: number;
  /** The very shape, or any that holds the chord. */
  readonly voicing: 'shape' | 'any';
  /** 30…240. */
  readonly tempoBpm?: number;
  /** Symbols that went wrong before: they come back three times as often. */
  readonly weak?: readonly string[];
  readonly driven?: boolean;
  /** Only chords of this key; absent: of any. */
  readonly key?: { readonly tonic: string; readonly minor: boolean };
  /** The band that plays under a progression; absent: a click. */
  readonly style?: Style;
  /** Names called one by one are said aloud. */
  readonly said?: boolean;
  /**
   * The chords of an own list, in place of kinds and key: one by one in an order that can't be foreseen, in time in
   * the list's own order, as often around as there are chords to ask for.
   */
  readonly chords?: readonly ChordEntry[];
}

/** Keeps draws apart from those of other material of the same seed. */
const STREAM = 11;
const WEAK_COMES = 3;
const DEFAULT_TEMPO = 72;
const PREPARE_SEC = 10;

/**
 * Turns of four bars in degrees of the major scale above the tonic and of the natural minor below; common practice, no source.
 */
const MAJOR_TURNS = [
  [0, 7, 9, 5],
  [0, 9, 5, 7],
  [0, 5, 7, 0],
  [0, 5, 0, 7],
  [2, 7, 0, 0],
  [0, 4, 5, 7],
] as const;
const MINOR_TURNS = [
  [0, 8, 3, 10],
  [0, 10, 8, 10],
  [0, 5, 7, 0],
  [0, 5, 10, 3],
  [0, 3, 10, 5],
] as const;
const DEGREE_LETTERS = [0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6] as const;

/** @throws RangeError naming the value and what is allowed, or that no chord of these kinds fits */
export function makeChords(request: ChordRequest): ChordTest {
  check(request);
  const { seed, how, count, voicing, tempoBpm = DEFAULT_TEMPO } = request;
  const random = makeRandom(seed, STREAM);
  const shapes = CHORD_SHAPES.filter(({ family }) => request.families.includes(family));
  const drawn: readonly ChordEntry[] = request.chords
    ? ownChords(request.chords, request, random)
    : (how === 'named' ? drawList(shapes, request, random) : drawTurns(shapes, request, random)).map(asEntry);
  const metre = METRES['4/4'];
  const chords = drawn.map(({ symbol, frets }, i): TestChord => ({
    symbol,
    frets: voicing === 'shape' ? frets : null,
    startTicks: how === 'progression' ? ticks(i * barTicks(metre)) : null,
  }));
  return {
    version: 1,
    kind: 'chords',
    instrument: 'guitar',
    tuning: standardTuning('guitar').strings.map(midi),
    seed,
    tempoBpm: bpm(tempoBpm),
    metre,
    bars: count,
    chords,
    driven: request.driven ?? false,
    prepareSec: sec(PREPARE_SEC),
    ...(request.style && how === 'progression' ? { style: request.style } : {}),
    ...(request.said && how === 'named' ? { said: true as const } : {}),
  };
}

function check({ seed, families, count, tempoBpm, chords }: ChordRequest): void {
  if (!Number.isInteger(seed) || seed < 0 || seed > 0xffffffff)
    throw new RangeError(`seed must be a whole number 0…4294967295, got ${seed}`);
  if (!Number.isInteger(count) || count < 1 || count > 32)
    throw new RangeError(`count must be a whole number 1…32, got ${count}`);
  if (tempoBpm !== undefined && !(tempoBpm >= 30 && tempoBpm <= 240))
    throw new RangeError(`tempo must be 30…240 crotchets a minute, got ${tempoBpm}`);
  if (chords?.length === 0) throw new RangeError('a list needs one chord at least, got none');
  const stranger = families.find((family) => !SHAPE_FAMILIES.includes(family));
  if (families.length === 0 || stranger !== undefined)
    throw new RangeError(`kinds must be some of ${SHAPE_FAMILIES.join(', ')}, got ${stranger ?? 'none'}`);
}

const asEntry = ({ chord, frets }: ChordShape): ChordEntry => ({ symbol: chordSymbol(chord), frets });

/** An own list: by itself in time, in an unforeseen order one by one. */
const ownChords = (
  list: readonly ChordEntry[],
  { how, count, weak = [] }: ChordRequest,
  random: Random,
): readonly ChordEntry[] =>
  how === 'progression'
    ? Array.from({ length: count }, (_, i) => list[i % list.length]!)
    : unforeseen(list, ({ symbol }) => symbol, { count, weak, whole: true }, random);

/** Shapes of the kinds asked for, in an unforeseen order. */
function drawList(
  all: readonly ChordShape[],
  { count, weak = [], key, families }: ChordRequest,
  random: Random,
): ChordShape[] {
  const shapes = key ? all.filter(({ chord }) => isOfKey(chord, key)) : all;
  if (shapes.length === 0)
    throw new RangeError(`no chord of these kinds (${families.join(', ')}) belongs to that key`);
  return unforeseen(shapes, ({ chord }) => chordSymbol(chord), { count, weak }, random);
}

/**
 * No chord twice in a row, and none again before half of the list has gone by where there are enough; weak ones more often.
 * `whole`: every chord comes, as far as there is room.
 */
function unforeseen<T>(
  all: readonly T[],
  nameOf: (one: T) => string,
  {
    count,
    weak,
    whole = false,
  }: { readonly count: number; readonly weak: readonly string[]; readonly whole?: boolean },
  random: Random,
): T[] {
  const drawn: T[] = [];
  const names = new Set(all.map(nameOf));
  const rest = Math.min(Math.floor(names.size / 2), Math.floor(count / 2), 6);
  while (drawn.length < count) {
    const recent = drawn.slice(drawn.length - Math.max(1, rest)).map(nameOf);
    const able = all.filter((one) => names.size === 1 || !recent.includes(nameOf(one)));
    const asked = new Set(drawn.map(nameOf));
    const due = whole && count - drawn.length <= names.size - asked.size;
    const now = due ? able.filter((one) => !asked.has(nameOf(one))) : able;
    const pool = now.flatMap((one) => new Array<T>(weak.includes(nameOf(one)) ? WEAK_COMES : 1).fill(one));
    drawn.push(random.pick(pool));
  }
  return drawn;
}

/** Turns of four bars in one key, of chords that belong to it and that have a shape of the kinds asked for. */
function drawTurns(
  shapes: readonly ChordShape[],
  { count, families, key }: ChordRequest,
  random: Random,
): ChordShape[] {
  for (let tries = 0; tries < 200; tries++) {
    const { minor, tonic } = key ?? { minor: random.chance(2, 5), tonic: random.pick(CHORD_TONICS) };
    const drawn: ChordShape[] = [];
    while (drawn.length < count) {
      const turn = random.pick<readonly number[]>(minor ? MINOR_TURNS : MAJOR_TURNS);
      const bars = turn.map((degree) => {
        const root = nameAbove(tonic, DEGREE_LETTERS[degree]!, degree);
        const able = shapes.filter(
          ({ chord }) => sameRoot(chord.root, root) && belongs(chord, tonic, minor, degree),
        );
        return able.length > 0 ? random.pick(able) : null;
      });
      if (bars.some((bar) => bar === null)) break;
      drawn.push(...(bars as ChordShape[]).slice(0, count - drawn.length));
    }
    if (drawn.length === count) return drawn;
  }
  throw new RangeError(
    `no key holds a progression of these kinds (${families.join(', ')}); allow open or barre chords too`,
  );
}

/** A chord of the key, or one whose third is left open. */
function belongs(chord: ChordShape['chord'], tonic: string, minor: boolean, degree: number): boolean {
  if (chord.quality === 'fifth') return true;
  if (functionOf(chord, tonic, minor) === 'foreign') return false;
  // A dominant seventh or ninth leads: it is V, or the seventh degree of minor.
  if (chord.quality.startsWith('dominant') && degree !== 7 && degree !== 10) return false;
  // The tonic's own third makes the key; a minor fourth or a minor fifth belongs to minor.
  const isMinor = chord.quality.startsWith('minor') || chord.quality === 'half-diminished';
  if (degree === 0) return isMinor === minor;
  if (degree === 5) return isMinor === minor;
  if (degree === 7) return minor || !isMinor;
  return true;
}
