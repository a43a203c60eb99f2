import type { Key, Metre, Phrase } from '../../../music/score.ts';
import { TICKS_PER_QUARTER } from '../../../music/units.ts';
import { barTicks, beatLengths } from '../../../music/metre.ts';
import { spelledScale } from '../theory/scale.ts';
import { syncopations } from './syncopation.ts';
import { tonalDistances } from './tonal.ts';

/**
 * A measure of how hard a phrase is to hear and give back, from its notes, key and tempo alone.
 *
 * Each part is a quantity that the literature names as a source of difficulty, divided by the amount of it
 * that counts as a full share; parts count equally, since equal weights predict about as well as fitted ones
 * where there is nothing to fit them on (Dawes, "The robust beauty of improper linear models", American
 * Psychologist 34, 1979). The full shares are round numbers near the top of what two to four bars can hold;
 * none was fitted to grades.
 */
export const FULL_SHARE = {
  /** Notes to be kept in mind: Long 1977 and Pembrook 1986 find recall falling with length. */
  length: 32,
  /** Notes a second: note density is what best predicts dictation scores in Baker 2019 (chapter 6). */
  pace: 4,
  /** Longuet-Higgins & Lee syncopation a bar, each syncopation's strength + 1. */
  syncopation: 6,
  /** Different distances between onsets, beyond the first: variety of durations, Eerola & North 2000. */
  variety: 5,
  /** Notes off the beat, share of all: each has to be placed against a beat that it does not sound. */
  offBeat: 1,
  /** Unequal groups (5/4) count 1, unequal beats (7/8) 2: unequal beats are the harder, London 2004. */
  unequal: 2,
  /** Mean interval in semitones: interval size in Eerola & North 2000 and in expectancy models since. */
  interval: 5,
  /** Mean tonal distance, weighted by duration: Krumhansl & Kessler 1982. */
  tonal: 0.8,
  /** Changes of direction, share of those that could be: contour is what is kept first, Dowling 1978. */
  contour: 1,
  /** Different pitches. */
  pitches: 12,
} as const;

export type DifficultyPart = keyof typeof FULL_SHARE;
const TIME_PARTS = ['length', 'pace', 'syncopation', 'variety', 'offBeat', 'unequal'] as const;
const PITCH_PARTS = ['interval', 'tonal', 'contour', 'pitches'] as const;

export interface Difficulty {
  /** 0 = nothing to do; 100 = a full share of every part. A phrase on one pitch has the time parts alone. */
  readonly total: number;
  /** Shares, 1 = full; the pitch parts are 0 on one pitch. */
  readonly parts: Readonly<Record<DifficultyPart, number>>;
}

/** The bare notes that difficulty is a function of. */
export interface MeasuredNote {
  readonly startTicks: number;
  readonly durationTicks: number;
  /** Semitones from any tonic of the key. */
  readonly offset: number;
}

/** Where a metre's beats start, ticks from the bar line, and how unequal they are; worked out once. */
const beatsCache = new WeakMap<Metre, { readonly starts: readonly number[]; readonly unequal: number }>();
function beatsOf(metre: Metre) {
  const known = beatsCache.get(metre);
  if (known) return known;
  const lengths = beatLengths(metre);
  const starts = lengths.map((_, i) => lengths.slice(0, i).reduce((sum, length) => sum + length, 0));
  const uneven = new Set(metre.grouping).size > 1;
  const beats = { starts, unequal: uneven ? (new Set(lengths).size > 1 ? 2 : 1) : 0 };
  beatsCache.set(metre, beats);
  return beats;
}

/** How many different values; a handful, so looking back beats a set. */
function different(values: readonly number[]): number {
  let count = 0;
  for (let i = 0; i < values.length; i++) if (values.indexOf(values[i]!) === i) count++;
  return count;
}

/** Amounts of the time parts, in their order. @param onsets ticks, rising. */
function timeAmounts(
  onsets: readonly number[],
  phrase: Pick<Phrase, 'metre' | 'bars'>,
  tempo: number,
): number[] {
  const { metre, bars } = phrase;
  const bar = barTicks(metre);
  const seconds = ((bar * bars) / TICKS_PER_QUARTER) * (60 / tempo);
  const { starts, unequal } = beatsOf(metre);
  const gaps: number[] = [];
  let offBeat = 0;
  for (let i = 0; i < onsets.length; i++) {
    const onset = onsets[i]!;
    if (i > 0) gaps.push(onset - onsets[i - 1]!);
    if (!starts.includes(onset % bar)) offBeat++;
  }
  let syncopated = 0;
  const strengths = syncopations(onsets, metre, bars);
  for (let i = 0; i < strengths.length; i++) syncopated += strengths[i]! + 1;
  return [
    onsets.length,
    onsets.length / seconds,
    syncopated / bars,
    Math.max(0, different(gaps) - 1),
    offBeat / onsets.length,
    unequal,
  ];
}

/** Amounts of the pitch parts, in their order. */
function pitchAmounts(
  offsets: readonly number[],
  durations: readonly number[],
  minorThird: boolean,
): number[] {
  const distances = tonalDistances(minorThird);
  const count = offsets.length;
  let moved = 0;
  let turns = 0;
  let lasting = 0;
  let foreign = 0;
  let before = 0;
  for (let i = 0; i < count; i++) {
    const offset = offsets[i]!;
    lasting += durations[i]!;
    foreign += distances[((offset % 12) + 12) % 12]! * durations[i]!;
    if (i === 0) continue;
    const step = offset - offsets[i - 1]!;
    moved += Math.abs(step);
    const way = Math.sign(step);
    if (i > 1 && way !== before) turns++;
    before = way;
  }
  return [
    moved / Math.max(1, count - 1),
    foreign / lasting,
    turns / Math.max(1, count - 2),
    different(offsets),
  ];
}

/** Shares of all parts in the order of their names; those of pitch are 0 on one pitch. */
function sharesOf(bare: BareLine, phrase: Pick<Phrase, 'metre' | 'bars'>, tempo: number): number[] {
  const { onsets, offsets, durations, minorThird } = bare;
  const amounts = timeAmounts(onsets, phrase, tempo);
  if (different(offsets) > 1) amounts.push(...pitchAmounts(offsets, durations, minorThird));
  for (let i = 0; i < amounts.length; i++) amounts[i]! /= FULL_SHARES[i]!;
  return amounts;
}
const FULL_SHARES = [...TIME_PARTS, ...PITCH_PARTS].map((part) => FULL_SHARE[part]);

/** A phrase as three lists of one length, for the many that a stock is drawn from. */
export interface BareLine {
  readonly onsets: readonly number[];
  readonly durations: readonly number[];
  /** Semitones from any tonic of the key. */
  readonly offsets: readonly number[];
  /** Whether the key's third is minor. */
  readonly minorThird: boolean;
}

/** The total of {@link measure} alone. @param tempo crotchets a minute. */
export function totalDifficulty(
  bare: BareLine,
  phrase: Pick<Phrase, 'metre' | 'bars'>,
  tempo: number,
): number {
  const shares = sharesOf(bare, phrase, tempo);
  let sum = 0;
  for (let i = 0; i < shares.length; i++) sum += shares[i]!;
  return 100 * (sum / shares.length);
}

/**
 * Difficulty of bare notes.
 * @param minorThird whether the key's third is minor; @param tempo crotchets a minute.
 */
export function measure(
  notes: readonly MeasuredNote[],
  phrase: Pick<Phrase, 'metre' | 'bars'>,
  minorThird: boolean,
  tempo: number,
): Difficulty {
  const bare: BareLine = {
    onsets: notes.map(({ startTicks }) => startTicks),
    durations: notes.map(({ durationTicks }) => durationTicks),
    offsets: notes.map(({ offset }) => offset),
    minorThird,
  };
  const shares = sharesOf(bare, phrase, tempo);
  const parts = Object.fromEntries(
    [...TIME_PARTS, ...PITCH_PARTS].map((part, i) => [part, shares[i] ?? 0]),
  ) as Record<DifficultyPart, number>;
  return { total: totalDifficulty(bare, phrase, tempo), parts };
}

/**
 * Difficulty of a phrase in a key at a tempo, with its parts.
 * @throws RangeError for a phrase without notes or a key that is none.
 */
export function difficultyParts(phrase: Phrase, key: Key, tempoBpm: number): Difficulty {
  if (phrase.notes.length === 0) throw new RangeError('a phrase without notes has no difficulty');
  const scale = spelledScale(key);
  const notes = phrase.notes.map((note) => ({ ...note, offset: note.midi - scale.tonicPc }));
  return measure(notes, phrase, scale.steps.includes(3) && !scale.steps.includes(4), tempoBpm);
}

/** Difficulty of a phrase in a key at a tempo: 0…100 (above 100 where a phrase exceeds the full shares). */
export const difficulty = (phrase: Phrase, key: Key, tempoBpm: number): number =>
  difficultyParts(phrase, key, tempoBpm).total;
