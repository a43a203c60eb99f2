import type { Key, Phrase } from '../../../score.ts';
import { TICKS_PER_QUARTER } from '../../../units.ts';
import { barTicks, beatLengths } from '../metre/metres.ts';
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

function timeParts(notes: readonly MeasuredNote[], phrase: Pick<Phrase, 'metre' | 'bars'>, tempo: number) {
  const { metre, bars } = phrase;
  const onsets = notes.map((note) => note.startTicks);
  const seconds = ((barTicks(metre) * bars) / TICKS_PER_QUARTER) * (60 / tempo);
  const strengths = syncopations(onsets, metre, bars);
  const beats = beatLengths(metre);
  const beatStarts = new Set<number>();
  for (let i = 0, at = 0; i < beats.length; at += beats[i++]!) beatStarts.add(at);
  const bar = barTicks(metre);
  const gaps = new Set(onsets.slice(1).map((onset, i) => onset - onsets[i]!));
  const uneven = new Set(metre.grouping).size > 1;
  return {
    length: notes.length,
    pace: notes.length / seconds,
    syncopation: strengths.reduce((sum, strength) => sum + strength + 1, 0) / bars,
    variety: Math.max(0, gaps.size - 1),
    offBeat: onsets.filter((onset) => !beatStarts.has(onset % bar)).length / notes.length,
    unequal: uneven ? (new Set(beats).size > 1 ? 2 : 1) : 0,
  };
}

function pitchParts(notes: readonly MeasuredNote[], distances: readonly number[]) {
  let moved = 0;
  let turns = 0;
  let lasting = 0;
  let foreign = 0;
  notes.forEach(({ offset, durationTicks }, i) => {
    lasting += durationTicks;
    foreign += distances[((offset % 12) + 12) % 12]! * durationTicks;
    if (i > 0) moved += Math.abs(offset - notes[i - 1]!.offset);
    if (i > 1) {
      const before = Math.sign(notes[i - 1]!.offset - notes[i - 2]!.offset);
      if (Math.sign(offset - notes[i - 1]!.offset) !== before) turns++;
    }
  });
  return {
    interval: moved / Math.max(1, notes.length - 1),
    tonal: foreign / lasting,
    contour: turns / Math.max(1, notes.length - 2),
    pitches: new Set(notes.map((note) => note.offset)).size,
  };
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
  const onePitch = notes.every((note) => note.offset === notes[0]!.offset);
  const time = timeParts(notes, phrase, tempo);
  const pitch = onePitch
    ? { interval: 0, tonal: 0, contour: 0, pitches: 0 }
    : pitchParts(notes, tonalDistances(minorThird));
  const amounts = { ...time, ...pitch };
  const parts = { ...amounts } as Record<DifficultyPart, number>;
  for (const part of Object.keys(FULL_SHARE) as DifficultyPart[])
    parts[part] = amounts[part] / FULL_SHARE[part];
  const mean = (names: readonly DifficultyPart[]): number =>
    names.reduce((sum, name) => sum + parts[name], 0) / names.length;
  const total = onePitch ? mean(TIME_PARTS) : mean([...TIME_PARTS, ...PITCH_PARTS]);
  return { total: 100 * total, parts };
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
