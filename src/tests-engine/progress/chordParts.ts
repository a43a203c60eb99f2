import { belief, logistic, logit, observe, predictor } from './gaussian.ts';
import { byOrder, LOOK_BACK } from './estimate.ts';
import type { Practised } from './types.ts';

/** What is known of one shape, or of one change. */
export interface ChordPart {
  /** "Am7"; of a change "C → G". */
  readonly name: string;
  /** Frets from the lowest string, "x 3 2 0 1 0"; null for any voicing and for changes. */
  readonly shape: string | null;
  readonly seen: number;
  readonly right: number;
  /** Chance, 0…1, that it comes off: the median of what is believed, and its 90 % limits. */
  readonly chance: number;
  readonly low: number;
  readonly high: number;
  /** How far it lies under (−) or over the player's own level, in standard deviations. */
  readonly sureness: number;
}

/**
 * Prior: eight of ten chords of a list one has chosen come off, ±1 covers six to nine and a half; single ones differ by ±1 again.
 * Common practice, no source: wide enough that ten strokes outweigh it.
 */
const BASE = logit(0.8);
const SD = 1;
const BASE_WEIGHT = 0;

interface Seen {
  readonly name: string;
  readonly shape: string | null;
  readonly said: boolean[];
}

/** An additive logistic model as that of notes: one's own level, and each part over or under it. */
function estimated(
  of: readonly {
    readonly key: string;
    readonly name: string;
    readonly shape: string | null;
    readonly right: boolean;
  }[],
): ChordPart[] {
  const parts = new Map<string, Seen & { readonly at: number }>();
  for (const { key, name, shape } of of)
    if (!parts.has(key)) parts.set(key, { name, shape, said: [], at: parts.size + 1 });
  const state = belief([BASE, ...Array<number>(parts.size).fill(0)], Array<number>(parts.size + 1).fill(SD));
  for (const { key, right } of of) {
    const part = parts.get(key)!;
    observe(state, [BASE_WEIGHT, part.at], right);
    part.said.push(right);
  }
  return [...parts.values()]
    .map(({ name, shape, said, at }): ChordPart => {
      const { mean, variance } = predictor(state, [BASE_WEIGHT, at]);
      const sd = Math.sqrt(variance);
      return {
        name,
        shape,
        seen: said.length,
        right: said.filter(Boolean).length,
        chance: logistic(mean),
        low: logistic(mean - 1.645 * sd),
        high: logistic(mean + 1.645 * sd),
        sureness: state.mean[at]! / Math.sqrt(state.cov[at * (state.size + 1)]!),
      };
    })
    .sort((a, b) => a.sureness - b.sureness || (a.name < b.name ? -1 : 1));
}

/** Shapes and changes that were played in a manner, those that go wrong first, surest first. */
export function chordParts(
  record: readonly Practised[],
  manner: Practised['manner'],
): { readonly shapes: readonly ChordPart[]; readonly changes: readonly ChordPart[] } {
  const said = record
    .filter((one) => one.manner === manner && one.chords !== undefined)
    .sort(byOrder)
    .slice(-LOOK_BACK)
    .flatMap(({ chords }) => chords!);
  return {
    shapes: estimated(
      said.flatMap(({ symbol, shape, right }) =>
        right === null ? [] : [{ key: `${symbol} ${shape ?? ''}`, name: symbol, shape, right }],
      ),
    ),
    changes: estimated(
      said.flatMap(({ symbol, from, inTime }) =>
        from === null || inTime === null
          ? []
          : [{ key: `${from} ${symbol}`, name: `${from} → ${symbol}`, shape: null, right: inTime }],
      ),
    ),
  };
}

/** A part this many standard deviations under the player's own level comes back more often. */
const WEAK_SD = -0.5;
const MOST_WEAK = 6;

/** Symbols of chords that go wrong, or that are changed to late, surest first. */
export function weakChordsOf(record: readonly Practised[], manner: Practised['manner']): string[] {
  const { shapes, changes } = chordParts(record, manner);
  const weak = [...shapes, ...changes]
    .filter(({ sureness }) => sureness < WEAK_SD)
    .sort((a, b) => a.sureness - b.sureness)
    .map(({ name }) => name.split(' → ').at(-1)!);
  return [...new Set(weak)].slice(0, MOST_WEAK);
}
