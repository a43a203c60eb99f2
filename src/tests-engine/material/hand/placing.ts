import type { Key } from '../../../music/score.ts';
import type { LevelParameters } from '../levels/types.ts';
import type { Random } from '../random/random.ts';
import { ladder, spelledScale } from '../theory/scale.ts';
import { HAND_FRETS, type Layout, layouts, stretchedHand, underTheHand } from './position.ts';

/** A key and a hand position in which a melody lies. */
export interface Placed {
  readonly key: Key;
  readonly hand: Layout;
}

/** How a position that was asked for is kept, the easiest first. */
export const REACHES = ['hand', 'stretched', 'nearest'] as const;
export type Reach = (typeof REACHES)[number];

const cache = new WeakMap<LevelParameters, Map<string, readonly Layout[]>>();

/** Hand positions that hold a range of a key; empty when this tuning has none within the level's frets. */
export function hands(
  level: LevelParameters,
  strings: readonly number[],
  key: Key,
  range: readonly [number, number],
): readonly Layout[] {
  let known = cache.get(level);
  if (!known) cache.set(level, (known = new Map<string, readonly Layout[]>()));
  const name = `${strings.join()} ${key.tonic} ${key.scale} ${range.join()}`;
  let found = known.get(name);
  if (!found) {
    const scale = spelledScale(key);
    found = layouts(strings, scale.tonicPc, ladder(scale, range[0], range[1]), level.positions);
    known.set(name, found);
  }
  return found;
}

/**
 * Draws a tonic and a hand position for a range of a scale.
 * @param asked a key to keep to, or null; @returns null when this tuning holds the range in none of the keys.
 */
export function place(
  level: LevelParameters,
  strings: readonly number[],
  scale: string,
  range: readonly [number, number],
  asked: Key | null,
  random: Random,
): Placed | null {
  const tonics = asked ? [asked.tonic] : level.scales.find((entry) => entry.scale === scale)!.tonics;
  const from = random.below(tonics.length);
  for (let i = 0; i < tonics.length; i++) {
    const key = { tonic: tonics[(from + i) % tonics.length]!, scale };
    const found = hands(level, strings, key, range);
    if (found.length > 0) return { key, hand: random.pick(found) };
  }
  return null;
}

/**
 * As {@link place}, but where the hand is at home first: in the open position and its neighbours at the lower
 * levels ({@link LevelParameters.home}), or where the player asked for it.
 * @param position lowest and highest fret of the index finger asked for, or null.
 * @param reach what a key may take to lie there: the hand alone, the hand with its little finger stretched, or, where
 * none lies there, another position near by.
 */
export function placeAtHome(
  level: LevelParameters,
  strings: readonly number[],
  scale: string,
  range: readonly [number, number],
  asked: Key | null,
  position: readonly [number, number] | null,
  random: Random,
  reach: Reach = 'nearest',
): Placed | null {
  const tonics = asked ? [asked.tonic] : level.scales.find((entry) => entry.scale === scale)!.tonics;
  const from = random.below(tonics.length);
  const { home } = level;
  const stays = home !== undefined && random.chance(home.percent, 100);
  const [low, high] = position ?? [1, stays ? home.highestFret - HAND_FRETS + 1 : HIGHEST];
  let beside: { placed: Placed; off: number } | null = null;
  for (let i = 0; i < tonics.length; i++) {
    const key = { tonic: tonics[(from + i) % tonics.length]!, scale };
    const found = position ? everywhere(strings, key, range, reach) : hands(level, strings, key, range);
    const right = found.filter((hand) => hand.position >= low && hand.position <= high);
    if (right.length > 0) return { key, hand: random.pick(right) };
    for (const hand of found) {
      const off = Math.max(low - hand.position, hand.position - high);
      if (!beside || off < beside.off) beside = { placed: { key, hand }, off };
    }
  }
  return reach === 'nearest' ? (beside?.placed ?? null) : null;
}

/** The last position in which four frets still lie on an ordinary neck. */
const HIGHEST = 15;

function everywhere(
  strings: readonly number[],
  key: Key,
  range: readonly [number, number],
  reach: Reach,
): readonly Layout[] {
  const scale = spelledScale(key);
  const hand = reach === 'stretched' ? stretchedHand : underTheHand;
  return layouts(strings, scale.tonicPc, ladder(scale, range[0], range[1]), [1, HIGHEST], hand);
}

/** String (1 = highest) on which an offset from the tonic lies under a hand. */
export const stringOf = (hand: Layout, offset: number): number =>
  hand.places.get(hand.tonicMidi + offset)!.string;
