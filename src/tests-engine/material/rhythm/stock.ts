import { totalDifficulty } from '../difficulty/difficulty.ts';
import { Building } from '../building.ts';
import { PerMetre } from '../levels/perMetre.ts';
import type { LevelMetre, LevelParameters } from '../levels/types.ts';
import { METRES, barParts, barTicks, beatLengths } from '../../../music/metre.ts';
import { permuted } from '../random/permutation.ts';
import { pairs } from './pairs.ts';
import { type Stretch, onsetsOf, opens, partStock } from './parts.ts';
import { type Others, otherRhythms } from './others.ts';

/** A rhythm in two halves of two parts: those of bar 1 and of bar 2, or four short bars. */
export interface StockRhythm {
  readonly parts: readonly [Stretch, Stretch, Stretch, Stretch];
}

export interface RhythmStock {
  readonly rhythms: readonly StockRhythm[];
  /** The rhythm that stands beside one of them in the question. */
  readonly others: Others;
}

/**
 * Candidates looked at for one metre's stock. With few figures that is all there are; with many it is an
 * even sample, so that building it stays short (bench:material prints the time).
 */
const CANDIDATES = 6000;
/** Candidates between two pauses: some 5 ms. */
const CANDIDATES_A_SLICE = 300;

/**
 * Every rhythm a level can set in one metre, no two with the same onsets: bar 1 is a + b; bar 2 takes up one
 * of them: a + c or c + b, so that something is heard again before something new. Each has at least one
 * other rhythm to be asked against.
 */
function* build(level: LevelParameters, at: LevelMetre): Generator<void, RhythmStock> {
  const metre = METRES[at.metre];
  const bar = beatLengths(metre);
  const [firstBeats, secondBeats] = at.rhythmBars === 4 ? [bar, bar] : barParts(at.metre);
  // Short bars: the second part begins at a bar line too.
  const tiedInto = at.rhythmBars === 4 ? level.tiesOverBars : true;
  const additive = metre.beatUnit === 8;
  const firsts = partStock(level.rhythmFigures, firstBeats, additive, level.tiesOverBars);
  const seconds = partStock(level.rhythmFigures, secondBeats, additive, tiedInto);
  const [fewest, most] = at.rhythmNotes;
  const bars = pairs(firsts, seconds, fewest, most);
  const openings = pairs(firsts.filter(opens), seconds, fewest, most);
  const rest = [...seconds.map((c) => ({ c, second: true })), ...firsts.map((c) => ({ c, second: false }))];
  const others = otherRhythms(level, firsts, seconds, bars, at.rhythmBars * barTicks(metre));
  const inBand = bandOf(level, at);
  const all = openings.size * rest.length;
  const rhythms: StockRhythm[] = [];
  // Parts differ in their onsets, so rhythms do, but for one bar heard twice, which is met as a + c and as c + b.
  const twice = new Set<number>();
  for (let i = 0; i < Math.min(all, CANDIDATES); i++) {
    if (i % CANDIDATES_A_SLICE === 0) yield;
    const pick = all > CANDIDATES ? permuted(i, all, all) : i;
    const opening = pick % openings.size;
    const [a, b] = openings.at(opening);
    const { c, second } = rest[Math.floor(pick / openings.size)]!;
    const parts = second ? ([a, b, a, c] as const) : ([a, b, c, b] as const);
    const notes = parts[2].onsets.length + parts[3].onsets.length;
    if (notes < fewest || notes > most) continue;
    const isTwice = parts[2] === a && parts[3] === b;
    if ((isTwice && twice.has(opening)) || !inBand(onsetsOf(parts)) || !others(parts)) continue;
    rhythms.push({ parts });
    if (isTwice) twice.add(opening);
  }
  if (rhythms.length === 0)
    throw new RangeError(
      `the figures of level "${level.name}" give no pair of rhythms in ${at.metre} with ${fewest}–${most} notes in a half; allow more figures or other numbers of notes`,
    );
  return { rhythms, others };
}

/** All that difficulty asks of a rhythm's pitches is whether there is more than one. */
const ONE_PITCH: readonly number[] = [0];

/** Does a rhythm lie in the level's band of difficulty, at the level's middle tempo? */
export function bandOf(level: LevelParameters, at: LevelMetre): (onsets: readonly number[]) => boolean {
  const { rhythmBand: band, tempo } = level;
  if (!band) return () => true;
  const phrase = { metre: METRES[at.metre], bars: at.rhythmBars };
  const middle = (tempo[0] + tempo[1]) / 2;
  return (onsets) => {
    const onePitch = { onsets, durations: onsets, offsets: ONE_PITCH, minorThird: true };
    const total = totalDifficulty(onePitch, phrase, middle);
    return total >= band[0] && total <= band[1];
  };
}

const kept = new PerMetre<Building<RhythmStock>>();
const stockOf = (level: LevelParameters, at: LevelMetre): Building<RhythmStock> =>
  kept.of(level, at, '', () => new Building(build(level, at)));

/** The stock of a level in one metre; built at the first call. */
export const rhythmStock = (level: LevelParameters, at: LevelMetre): RhythmStock =>
  stockOf(level, at).whole();

/** Builds the stock a slice at a time. */
export const prepareRhythms = (level: LevelParameters, at: LevelMetre): Generator<void, void> =>
  stockOf(level, at).slices();
