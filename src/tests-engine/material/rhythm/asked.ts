import { Building } from '../building.ts';
import { PerMetre } from '../levels/perMetre.ts';
import type { LevelMetre, LevelParameters } from '../levels/types.ts';
import { mix } from '../random/random.ts';
import { onsetsOf } from './parts.ts';
import { type StockRhythm, bandOf, prepareRhythms, rhythmStock } from './stock.ts';

type Parts = StockRhythm['parts'];
type Onsets = readonly number[];

/** Two rhythms that may be asked against each other; which is played is tossed afterwards. */
export type Pair = readonly [Parts, Parts];

/** Rhythms looked at between two pauses: some 5 ms. */
const RHYTHMS_A_SLICE = 20;
/** Pairs of a metre: twice as many rhythms pass before one returns, and building them stays short. */
const MOST_PAIRS = 600;
/** With fewer a player would meet the same ones again within an hour: then rivals may be of looser form. */
const FEWEST_PAIRS = 40;

/** Of the form of every rhythm of a level: its second half takes up a part of its first. */
export const wellFormed = ([a, b, c, d]: Parts): boolean =>
  onsetsOf([a]).join() === onsetsOf([c]).join() || onsetsOf([b]).join() === onsetsOf([d]).join();

/**
 * The pairs of a level in one metre. Both rhythms are of the level's form, number of notes and band of difficulty, so
 * that either might have been the one played; no rhythm stands in two pairs. Where that leaves too few, the rival
 * keeps to the band alone, and at last to nothing but the number of notes.
 */
function* build(level: LevelParameters, at: LevelMetre): Generator<void, readonly Pair[]> {
  yield* prepareRhythms(level, at);
  const { rhythms, others } = rhythmStock(level, at);
  const inBand = bandOf(level, at);
  const [fewest, most] = at.rhythmNotes;
  const halves = ([a, b, c, d]: Parts): boolean =>
    [a.onsets.length + b.onsets.length, c.onsets.length + d.onsets.length].every(
      (notes) => notes >= fewest && notes <= most,
    );
  const rules: ((onsets: Onsets, parts: Parts) => boolean)[] = [
    (onsets, parts) => halves(parts) && wellFormed(parts) && inBand(onsets),
    (onsets, parts) => halves(parts) && inBand(onsets),
    () => true,
  ];
  const taken = new Set<string>();
  const pairs: Pair[] = [];
  for (const rule of rules) {
    if (pairs.length >= FEWEST_PAIRS) break;
    for (let i = 0; i < rhythms.length && pairs.length < MOST_PAIRS; i++) {
      if (i % RHYTHMS_A_SLICE === 0) yield;
      const { parts } = rhythms[i]!;
      const name = onsetsOf(parts).join();
      if (taken.has(name)) continue;
      const turn = mix(i, rhythms.length) % 65536;
      const other = others(parts, turn, (onsets, rival) => rule(onsets, rival) && !taken.has(onsets.join()));
      if (!other) continue;
      taken.add(name);
      taken.add(onsetsOf(other).join());
      pairs.push([parts, other]);
    }
  }
  if (pairs.length === 0)
    throw new RangeError(
      `the figures of level "${level.name}" give no two rhythms in ${at.metre} to be told apart; allow more figures`,
    );
  return pairs;
}

const kept = new PerMetre<Building<readonly Pair[]>>();
const pairsOf = (level: LevelParameters, at: LevelMetre): Building<readonly Pair[]> =>
  kept.of(level, at, '', () => new Building(build(level, at)));

/** The pairs of a level in one metre; built at the first call. */
export const askedPairs = (level: LevelParameters, at: LevelMetre): readonly Pair[] =>
  pairsOf(level, at).whole();

/** Builds the pairs a slice at a time. */
export const preparePairs = (level: LevelParameters, at: LevelMetre): Generator<void, void> =>
  pairsOf(level, at).slices();
