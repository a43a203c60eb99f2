import { type Figure, figure, figureTicks } from '../levels/figures.ts';
import { mix } from '../random/random.ts';

/** A stretch of rhythm, begun at tick 0: what sounds, what is silent, what is tied over from before. */
export interface Stretch {
  readonly ticks: number;
  readonly events: readonly { readonly ticks: number; readonly kind: 'note' | 'rest' | 'hold' }[];
  /** Where notes begin, ticks from the stretch's start. */
  readonly onsets: readonly number[];
}

function stretchOf(figures: readonly Figure[], onsets: readonly number[]): Stretch {
  const events = figures.flatMap(({ parts, held }) =>
    parts.map((part, i) => ({
      ticks: Math.abs(part),
      kind: part < 0 ? ('rest' as const) : held && i === 0 ? ('hold' as const) : ('note' as const),
    })),
  );
  return { ticks: events.reduce((sum, { ticks }) => sum + ticks, 0), events, onsets };
}

/** A sequence of figures that fills the beats, and where it has its notes. */
interface Filling {
  readonly figures: readonly Figure[];
  readonly onsets: readonly number[];
}

/**
 * Every sequence of figures that fills the beats and has a note, in the figures' order; a figure of several beats
 * starts on a beat and ends on one. A tie must come out of a sounding note: not out of a rest inside the part.
 */
function fillings(
  ids: readonly string[],
  beats: readonly number[],
  wholeBeats: boolean,
  tiedInto: boolean,
): Filling[] {
  const known = ids.map((id) => ({ it: figure(id), ticks: figureTicks(figure(id)) }));
  const found: Filling[] = [];
  const figures: Figure[] = [];
  const onsets: number[] = [];
  const fill = (beat: number, start: number): void => {
    if (beat === beats.length) {
      if (onsets.length > 0) found.push({ figures: [...figures], onsets: [...onsets] });
      return;
    }
    const before = figures.at(-1);
    for (const { it, ticks } of known) {
      if (it.held && (before ? before.parts.at(-1)! < 0 : !tiedInto)) continue;
      let next = beat;
      let covered = 0;
      while (covered < ticks && next < beats.length) covered += beats[next++]!;
      if (covered !== ticks || (wholeBeats && next > beat + 1)) continue;
      const notes = onsets.length;
      let at = start;
      for (let i = 0; i < it.parts.length; i++) {
        const part = it.parts[i]!;
        if (part > 0 && !(it.held && i === 0)) onsets.push(at);
        at += Math.abs(part);
      }
      figures.push(it);
      fill(next, at);
      figures.pop();
      onsets.length = notes;
    }
  };
  fill(0, 0);
  return found;
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
  const ways = new Map<string, Filling[]>();
  for (const filling of fillings(ids, beats, additive, tiedInto)) {
    const signature = filling.onsets.join();
    const same = ways.get(signature);
    if (same) same.push(filling);
    else ways.set(signature, [filling]);
  }
  return [...ways.values()].map((same) => {
    const { onsets } = same[0]!;
    const way = same[mix(onsets.length * 7919 + onsets.at(-1)!, same.length) % same.length]!;
    return stretchOf(way.figures, onsets);
  });
}

/** True where a phrase may begin: on a note, at once. */
export const opens = (stretch: Stretch): boolean => stretch.onsets[0] === 0;

/** Where stretches laid end to end have their notes. */
export function onsetsOf(parts: readonly Stretch[]): number[] {
  const onsets: number[] = [];
  let start = 0;
  for (const part of parts) {
    for (const onset of part.onsets) onsets.push(start + onset);
    start += part.ticks;
  }
  return onsets;
}

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
