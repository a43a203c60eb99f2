import type { LevelMetre, LevelParameters } from '../levels/types.ts';
import { METRES, barParts, barTicks } from '../metre/metres.ts';
import { permuted } from '../random/permutation.ts';
import { type Stretch, join, opens, partStock } from './parts.ts';
import { type Others, otherRhythms } from './others.ts';

/** A rhythm test is two bars long in every metre: that is the job's own measure. */
export const RHYTHM_BARS = 2;

/** A two-bar rhythm: first and second part of bar 1, first and second part of bar 2. */
export interface StockRhythm {
  readonly parts: readonly [Stretch, Stretch, Stretch, Stretch];
  readonly onsets: readonly number[];
}

export interface RhythmStock {
  readonly rhythms: readonly StockRhythm[];
  /** The rhythms that may stand beside one of them in the question. */
  readonly others: Others;
}

/**
 * Candidates looked at for one metre's stock. With few figures that is all there are; with many it is an
 * even sample, so that building it stays short (bench:material prints the time).
 */
const CANDIDATES = 6000;

/**
 * Every rhythm a level can set in one metre, no two with the same onsets: bar 1 is a + b; bar 2 takes up one
 * of them: a + c or c + b, so that something is heard again before something new. Each has at least one
 * other rhythm to be asked against.
 */
function build(level: LevelParameters, at: LevelMetre): RhythmStock {
  const metre = METRES[at.metre];
  const [firstBeats, secondBeats] = barParts(at.metre);
  const additive = metre.beatUnit === 8;
  const firsts = partStock(level.rhythmFigures, firstBeats, additive);
  const seconds = partStock(level.rhythmFigures, secondBeats, additive);
  const [fewest, most] = level.notesPerBar;
  const fits = (a: Stretch, b: Stretch): boolean => {
    const notes = a.onsets.length + b.onsets.length;
    return notes >= fewest && notes <= most;
  };
  const bars = firsts.flatMap((a) => seconds.filter((b) => fits(a, b)).map((b) => [a, b] as const));
  const openings = bars.filter(([a]) => opens(a));
  const rest = [...seconds.map((c) => ({ c, second: true })), ...firsts.map((c) => ({ c, second: false }))];
  const others = otherRhythms(level, firsts, seconds, bars, RHYTHM_BARS * barTicks(metre));
  const all = openings.length * rest.length;
  const found = new Map<string, StockRhythm>();
  for (let i = 0; i < Math.min(all, CANDIDATES); i++) {
    const pick = all > CANDIDATES ? permuted(i, all, all) : i;
    const [a, b] = openings[pick % openings.length]!;
    const { c, second } = rest[Math.floor(pick / openings.length)]!;
    const parts = second ? ([a, b, a, c] as const) : ([a, b, c, b] as const);
    if (!fits(parts[2], parts[3])) continue;
    const { onsets } = join(parts);
    const name = onsets.join();
    if (!found.has(name) && others(parts).next().done === false) found.set(name, { parts, onsets });
  }
  if (found.size === 0)
    throw new RangeError(
      `the figures of level "${level.name}" give no pair of rhythms in ${at.metre} with ${fewest}–${most} notes a bar; allow more figures or other numbers of notes`,
    );
  return { rhythms: [...found.values()], others };
}

const cache = new WeakMap<LevelMetre, RhythmStock>();

/** The stock of a level in one metre; built at the first call. */
export function rhythmStock(level: LevelParameters, at: LevelMetre): RhythmStock {
  let stock = cache.get(at);
  if (!stock) cache.set(at, (stock = build(level, at)));
  return stock;
}
