import type { LevelParameters } from '../levels/types.ts';
import type { Pairs } from './pairs.ts';
import { type Stretch, onsetsOf, opens } from './parts.ts';

type Parts = readonly [Stretch, Stretch, Stretch, Stretch];
type Onsets = readonly number[];

/**
 * The first rhythm, from `turn` on (any whole number ≥ 0), that may be asked against this one and that is
 * accepted (by default any); null: there is none.
 */
export type Others = (
  parts: Parts,
  turn?: number,
  accepts?: (onsets: Onsets, parts: Parts) => boolean,
) => Parts | null;

/** True where one rhythm is the other begun earlier or later, straight or round the end. Onsets 0…length−1, rising. */
export function isShift(a: Onsets, b: Onsets, length: number): boolean {
  const count = a.length;
  if (count !== b.length) return false;
  // Begun at note k of b the same distances follow.
  for (let k = 0; k < count; k++) {
    let same = 0;
    while (same < count) {
      const there = b[(k + same) % count]! - b[k]!;
      if ((there < 0 ? there + length : there) !== a[same]! - a[0]!) break;
      same++;
    }
    if (same === count) return true;
  }
  return false;
}

/** Index of the first onset of `a`, from one on, that `b` lacks; a's length when there is none. */
function lacking(a: Onsets, from: number, b: Onsets): number {
  let i = from;
  while (i < a.length && b.includes(a[i]!)) i++;
  return i;
}

/**
 * Could a listener of this level tell them apart, and by nothing but one or two onsets? The same number of
 * notes, at most `question.moves` of them elsewhere, each at least `question.leastTicks` from where it was.
 */
export function differsAsAsked({ question }: LevelParameters, a: Onsets, b: Onsets): boolean {
  if (a.length !== b.length) return false;
  let moves = 0;
  let i = lacking(a, 0, b);
  let j = lacking(b, 0, a);
  while (i < a.length) {
    if (++moves > question.moves || Math.abs(a[i]! - b[j]!) < question.leastTicks) return false;
    i = lacking(a, i + 1, b);
    j = lacking(b, j + 1, a);
  }
  return moves > 0;
}

/** With more bars than this a rhythm always has a part to change; with few, a whole bar may have to. */
const FEW_BARS = 400;

/** What a part or a whole bar may be replaced by. */
interface Choice {
  readonly parts: readonly Stretch[];
  readonly onsets: Onsets;
}
const NONE: readonly Choice[] = [];

/** Choices by their number of notes. */
function byNotes(choices: readonly Choice[]): ReadonlyMap<number, readonly Choice[]> {
  const groups = new Map<number, Choice[]>();
  for (const choice of choices) {
    const group = groups.get(choice.onsets.length);
    if (group) group.push(choice);
    else groups.set(choice.onsets.length, [choice]);
  }
  return groups;
}

const choiceOf = (...parts: readonly Stretch[]): Choice => ({ parts, onsets: onsetsOf(parts) });

/** First part of each place where something is replaced: the four parts, then the two bars. */
const PLACES = [0, 1, 2, 3, 0, 2];

/**
 * How a level's rhythms are varied for the question: one part of a bar is replaced by another part of the
 * level's figures with as many notes; where the level has few bars, also one whole bar. All else stays, so what
 * is replaced tells whether the two differ as asked.
 */
export function otherRhythms(
  level: LevelParameters,
  firsts: readonly Stretch[],
  seconds: readonly Stretch[],
  bars: Pairs,
  length: number,
): Others {
  const firstsBy = byNotes(firsts.map((part) => choiceOf(part)));
  const secondsBy = byNotes(seconds.map((part) => choiceOf(part)));
  const listed =
    bars.size <= FEW_BARS ? Array.from({ length: bars.size }, (_, i) => choiceOf(...bars.at(i))) : [];
  const barsBy = byNotes(listed);

  return (parts, turn = 0, accepts) => {
    const [a, b, c, d] = parts;
    const choices = [
      firstsBy.get(a.onsets.length) ?? NONE,
      secondsBy.get(b.onsets.length) ?? NONE,
      firstsBy.get(c.onsets.length) ?? NONE,
      secondsBy.get(d.onsets.length) ?? NONE,
      barsBy.get(a.onsets.length + b.onsets.length) ?? NONE,
      barsBy.get(c.onsets.length + d.onsets.length) ?? NONE,
    ];
    let size = 0;
    for (const list of choices) size += list.length;
    let mine: Onsets | null = null;
    for (let i = 0; i < size; i++) {
      let at = (turn + i) % size;
      let which = 0;
      while (at >= choices[which]!.length) at -= choices[which++]!.length;
      const choice = choices[which]![at]!;
      const place = PLACES[which]!;
      const old = which < 4 ? parts[place]!.onsets : onsetsOf([parts[place]!, parts[place + 1]!]);
      if (!differsAsAsked(level, old, choice.onsets)) continue;
      const other = [...parts] as [Stretch, Stretch, Stretch, Stretch];
      for (let k = 0; k < choice.parts.length; k++) other[place + k] = choice.parts[k]!;
      if (!opens(other[0])) continue;
      const onsets = onsetsOf(other);
      if (accepts && !accepts(onsets, other)) continue;
      if (!isShift((mine ??= onsetsOf(parts)), onsets, length)) return other;
    }
    return null;
  };
}
