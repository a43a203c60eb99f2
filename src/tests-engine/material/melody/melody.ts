import type { Key, Phrase } from '../../../score.ts';
import { midi, ticks } from '../../../units.ts';
import { type Layout, layouts } from '../hand/position.ts';
import type { LevelMetre, LevelParameters } from '../levels/types.ts';
import { METRES } from '../metre/metres.ts';
import type { Random } from '../random/random.ts';
import { ladder, spelledScale } from '../theory/scale.ts';
import { spellInScale } from '../theory/spelling.ts';
import { type Line, lineOf } from './lines.ts';

const layoutCache = new WeakMap<LevelParameters, Map<string, readonly Layout[]>>();

/** Hand positions that hold a range of a key; empty when this tuning has none within the level's frets. */
function hands(
  level: LevelParameters,
  strings: readonly number[],
  key: Key,
  range: readonly [number, number],
): readonly Layout[] {
  const known = layoutCache.get(level) ?? new Map<string, readonly Layout[]>();
  layoutCache.set(level, known);
  const name = `${strings.join()} ${key.tonic} ${key.scale} ${range.join()}`;
  let found = known.get(name);
  if (!found) {
    const scale = spelledScale(key);
    found = layouts(strings, scale.tonicPc, ladder(scale, range[0], range[1]), level.positions);
    known.set(name, found);
  }
  return found;
}

/** True where no two neighbours are further apart than the level's strings. */
function reachable(line: Line, hand: Layout, most: number): boolean {
  let before = -1;
  return line.offsets.every((offset) => {
    const { string } = hand.places.get(hand.tonicMidi + offset)!;
    const near = before < 0 || Math.abs(string - before) <= most;
    before = string;
    return near;
  });
}

/**
 * A melody of a level: the line of this seed, in a key and hand position drawn for it.
 * @param walk which step of the level's walk through its stock; @param asked a key to keep to, or null.
 * @throws RangeError when no hand position of the tuning holds the line in any key that may be used.
 */
export function makeMelody(
  level: LevelParameters,
  at: LevelMetre,
  strings: readonly number[],
  walk: number,
  asked: Key | null,
  random: Random,
): { readonly key: Key; readonly phrase: Phrase } {
  const scales = asked ? [asked.scale] : level.scales.map(({ scale }) => scale);
  const line = lineOf(level, at, walk, scales, random);
  const tonics = asked ? [asked.tonic] : level.scales.find(({ scale }) => scale === line.scale)!.tonics;
  const choices = tonics.flatMap((tonic) => {
    const key = { tonic, scale: line.scale };
    return hands(level, strings, key, line.range).map((hand) => ({ key, hand }));
  });
  if (choices.length === 0)
    throw new RangeError(
      `no hand position between frets ${level.positions.join(' and ')} of this tuning holds ${line.scale} on ${tonics.join(', ')}; choose another key or tuning`,
    );
  const easy = choices.filter(({ hand }) => reachable(line, hand, level.maxStringCross));
  const { key, hand } = random.pick(easy.length > 0 ? easy : choices);
  const scale = spelledScale(key);
  const notes = line.offsets.map((offset, i) => {
    const sounding = hand.tonicMidi + offset;
    return {
      startTicks: ticks(line.plan.onsets[i]!),
      durationTicks: ticks(line.plan.durations[i]!),
      midi: midi(sounding),
      spelling: spellInScale(scale, sounding)!,
      ...hand.places.get(sounding)!,
    };
  });
  return { key, phrase: { metre: METRES[at.metre], bars: at.melodyBars, notes } };
}
