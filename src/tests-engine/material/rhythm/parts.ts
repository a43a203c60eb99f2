import { figure, figureTicks } from '../levels/figures.ts';
import { mix } from '../random/random.ts';

/** A stretch of rhythm, begun at tick 0: what sounds, what is silent, what is tied over from before. */
export interface Stretch {
  readonly ticks: number;
  readonly events: readonly { readonly ticks: number; readonly kind: 'note' | 'rest' | 'hold' }[];
  /** Where notes begin, ticks from the stretch's start. */
  readonly onsets: readonly number[];
}

function stretchOf(ids: readonly string[]): Stretch {
  const events = ids.flatMap((id) => {
    const f = figure(id);
    return f.parts.map((part, i) => ({
      ticks: Math.abs(part),
      kind: part < 0 ? ('rest' as const) : f.held && i === 0 ? ('hold' as const) : ('note' as const),
    }));
  });
  const onsets: number[] = [];
  let at = 0;
  for (const event of events) {
    if (event.kind === 'note') onsets.push(at);
    at += event.ticks;
  }
  return { ticks: at, events, onsets };
}

/** Every sequence of figures that fills the beats; a figure of several beats starts on a beat and ends on one. */
function fillings(ids: readonly string[], beats: readonly number[], wholeBeats: boolean): string[][] {
  if (beats.length === 0) return [[]];
  return ids.flatMap((id) => {
    const ticks = figureTicks(figure(id));
    let covered = 0;
    for (let used = 1; used <= (wholeBeats ? 1 : beats.length); used++) {
      covered += beats[used - 1]!;
      if (covered === ticks) return fillings(ids, beats.slice(used), wholeBeats).map((rest) => [id, ...rest]);
    }
    return [];
  });
}

/**
 * Every rhythm that fills a part of a bar from these figures, no two with the same onsets: a listener
 * cannot tell a rest from a longer note well enough for that to make two rhythms. Which of the ways of
 * writing it stays is drawn by a hash, so that rests, dots and ties all occur.
 * @param tiedInto whether the part may begin with a tie from before; @param additive true where beats are unequal (7/8): a figure then never spans two beats.
 */
export function partStock(
  ids: readonly string[],
  beats: readonly number[],
  additive: boolean,
  tiedInto = true,
): Stretch[] {
  const ways = new Map<string, Stretch[]>();
  for (const filling of fillings(ids, beats, additive)) {
    const stretch = stretchOf(filling);
    if (stretch.onsets.length === 0) continue;
    if (!tiedInto && stretch.events[0]!.kind === 'hold') continue;
    // A tie must come out of a sounding note: not out of a rest inside the part.
    if (stretch.events.some((e, i) => i > 0 && e.kind === 'hold' && stretch.events[i - 1]!.kind === 'rest'))
      continue;
    const signature = stretch.onsets.join();
    ways.set(signature, [...(ways.get(signature) ?? []), stretch]);
  }
  return [...ways.values()].map(
    (same) => same[mix(same[0]!.onsets.length * 7919 + same[0]!.onsets.at(-1)!, same.length) % same.length]!,
  );
}

/** True where a phrase may begin: on a note, at once. */
export const opens = (stretch: Stretch): boolean => stretch.onsets[0] === 0;

/** A rhythm laid out from tick 0: starts and sounding lengths. */
export interface Timeline {
  readonly onsets: readonly number[];
  readonly durations: readonly number[];
}

/** Joins stretches end to end; what is tied over lengthens the note before, across bar lines too. */
export function join(stretches: readonly Stretch[]): Timeline {
  const onsets: number[] = [];
  const durations: number[] = [];
  let at = 0;
  for (const stretch of stretches)
    for (const event of stretch.events) {
      if (event.kind === 'note') {
        onsets.push(at);
        durations.push(event.ticks);
      } else if (event.kind === 'hold' && onsets.length > 0) {
        // After a rest there is nothing to tie: the silence goes on.
        if (onsets.at(-1)! + durations.at(-1)! === at) durations[durations.length - 1]! += event.ticks;
      }
      at += event.ticks;
    }
  return { onsets, durations };
}
