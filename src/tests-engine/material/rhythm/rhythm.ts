import type { Key, Phrase } from '../../../music/score.ts';
import { midi, ticks } from '../../../music/units.ts';
import type { LevelMetre, LevelParameters } from '../levels/types.ts';
import { METRES } from '../../../music/metre.ts';
import type { GeneratorVersion } from '../generators.ts';
import { permuted } from '../random/permutation.ts';
import { type Random, mix } from '../random/random.ts';
import { askedPairs } from './asked.ts';
import { type Stretch, join } from './parts.ts';
import { rhythmStock } from './stock.ts';

/** Tonics of keys, by pitch class, as they are usually written for minor keys. */
const TONICS = ['C', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'G#', 'A', 'Bb', 'B'] as const;

function phraseOf(
  at: LevelMetre,
  parts: readonly Stretch[],
  strings: readonly number[],
  tonic: string,
): Phrase {
  const { onsets, durations } = join(parts);
  // Not always the last: a ukulele's fourth string lies above its third.
  const open = Math.min(...strings);
  const octave = Math.floor(open / 12) - 1;
  const notes = onsets.map((onset, i) => ({
    startTicks: ticks(onset),
    durationTicks: ticks(durations[i]!),
    midi: midi(open),
    spelling: `${tonic}${octave}`,
    string: strings.length - strings.indexOf(open),
    fret: 0,
  }));
  return { metre: METRES[at.metre], bars: at.rhythmBars, notes };
}

/** The key of a rhythm test: minor pentatonic on the open lowest string, so that the backing fits any tuning. */
export function rhythmKey(strings: readonly number[]): Key {
  return { tonic: TONICS[Math.min(...strings) % 12]!, scale: 'minor pentatonic' };
}

/**
 * A rhythm and its rival: the pair comes first, then the toss which of the two is played. So nothing about how they
 * are written tells the answer, and a pair that comes again on a later round is tossed again.
 */
function makePair(
  level: LevelParameters,
  at: LevelMetre,
  strings: readonly number[],
  walk: number,
  random: Random,
) {
  const pairs = askedPairs(level, at);
  const size = pairs.length;
  const number = permuted(walk % size, size, size);
  const toss = mix(mix(number, size), Math.floor(walk / size)) % 2;
  const [played, rival] = toss === 0 ? pairs[number]! : [...pairs[number]!].reverse();
  const { tonic } = rhythmKey(strings);
  return {
    phrase: phraseOf(at, played!, strings, tonic),
    question: {
      other: phraseOf(at, rival!, strings, tonic),
      answer: random.chance(1, 2) ? ('A' as const) : ('B' as const),
    },
  };
}

/**
 * A rhythm of a level on the open lowest string, and the second one for the question.
 * @param walk which step of the level's walk through its stock; consecutive ones return nothing before the
 * stock is used up.
 */
export function makeRhythm(
  level: LevelParameters,
  at: LevelMetre,
  strings: readonly number[],
  walk: number,
  random: Random,
  generator: GeneratorVersion,
): { readonly phrase: Phrase; readonly question: { readonly other: Phrase; readonly answer: 'A' | 'B' } } {
  if (generator > 1) return makePair(level, at, strings, walk, random);
  const { rhythms, others } = rhythmStock(level, at);
  const size = rhythms.length;
  const { parts } = rhythms[permuted(walk % size, size, size)]!;
  const other = others(parts, random.below(1 << 16));
  if (!other) throw new Error('a stock rhythm has no other: the stock was built wrongly');
  const { tonic } = rhythmKey(strings);
  return {
    phrase: phraseOf(at, parts, strings, tonic),
    question: {
      other: phraseOf(at, other, strings, tonic),
      answer: random.chance(1, 2) ? 'A' : 'B',
    },
  };
}
