import { markTake } from '../mark.ts';
import type { Mark, MarkRequest, PlayedNote } from '../types.ts';

/**
 * A take at the player's own tempo has no beat 1 to count from: what stands before it (tuning notes, trying a bar,
 * a false start) and after it must be told from it.
 */
export interface FoundTake {
  /** First and last played note of the take, `to` exclusive. */
  readonly from: number;
  readonly to: number;
  /** Beginnings before the take that came to nothing. */
  readonly falseStarts: number;
  readonly mark: Mark;
}

/** Silence after which a later note may be a new beginning, s; shorter ones are rests of the music or hesitations. */
const SILENCE_SEC = 0.7;
/** Notes by whose pitch a beginning is recognised, and how many of them have to be right. */
const OPENING = 4;
const OPENING_RIGHT = 3;
/** Beginnings looked at: more is practising. */
const MOST_STARTS = 10;
/** A later beginning is the take where it is read this many marks better: one note too many on the longest page costs more. */
const BETTER = 0.05;
/** A false start reaches no further than a bar, and is left for two beats or more before the take. */
const FALSE_BARS = 1;
const FALSE_BEATS = 2;
/** After the last note answered: what is struck this many bars later is no more of the take. */
const AFTER_BARS = 1;

/** How many of the opening notes stand, in order, at the head of `played`. */
function openingRight(target: MarkRequest['target'], played: readonly PlayedNote[], from: number): number {
  let right = 0;
  for (let k = 0; k < OPENING && k < target.length && from + k < played.length; k++)
    if (played[from + k]!.midi === target[k]!.midi) right++;
  return right;
}

/** Where the take may begin: at the first note, after each silence, and wherever the opening is heard again. */
function startsOf({ target, played }: MarkRequest): number[] {
  const needed = Math.min(OPENING_RIGHT, target.length);
  const starts = [0];
  for (let j = 1; j < played.length; j++) {
    const silent = played[j]!.onsetSec - played[j - 1]!.onsetSec >= SILENCE_SEC;
    const right = openingRight(target, played, j);
    if (right >= needed || (silent && right >= needed - 1)) starts.push(j);
  }
  return starts.slice(0, MOST_STARTS);
}

/** The written note that a few notes played from the beginning on reach, or −1 where they are not the beginning. */
function reached(target: MarkRequest['target'], played: readonly PlayedNote[]): number {
  let [at, right, far] = [0, 0, -1];
  for (const note of played) {
    // One note may be missed between two that are right.
    const found = [at, at + 1].find((i) => target[i]?.midi === note.midi);
    if (found === undefined) continue;
    right++;
    far = found;
    at = found + 1;
  }
  return right * 2 >= played.length ? far : -1;
}

/**
 * Finds the take in everything that was played, and marks it at the player's own tempo.
 *
 * Notes that are not the page's beginning and stand before it are left out. A beginning that was given up counts as
 * a false start, and costs nothing, where it reached no further than a bar and was left for two beats; else the
 * player went back to the start, which is a restart of the take and is marked as one.
 *
 * @param request clock `free`; played in order of onset; `beatSec` and `beatsPerBar` of the target given
 */
export function findTake(request: MarkRequest): FoundTake {
  const { played } = request;
  const barSec = (request.beatSec ?? 0.5) * (request.beatsPerBar ?? 4);
  const readFrom = (from: number, to = played.length): Mark =>
    markTake({ ...request, clock: 'free', played: played.slice(from, to) });
  const worth = (mark: Mark): number => mark.mark ?? mark.range?.[1] ?? 0;

  let from = 0;
  let mark = readFrom(0);
  const starts = startsOf(request);
  for (const start of starts.slice(1)) {
    const here = readFrom(start);
    if (worth(here) >= worth(mark) + BETTER) [from, mark] = [start, here];
  }
  const given =
    from > 0 ? beginnings(request, starts, from, mark.timing.tempoRatio) : { falseStarts: 0, back: null };
  if (given.back !== null) [from, mark] = [given.back, readFrom(given.back)];
  const last = Math.max(
    -1,
    ...mark.verdicts.filter((v) => v.targetIndex !== null).map((v) => v.playedIndex ?? -1),
  );
  const end = played.findIndex(
    (note, j) =>
      j > from + last &&
      note.onsetSec - played[j - 1]!.onsetSec > (AFTER_BARS * barSec) / mark.timing.tempoRatio,
  );
  const to = last < 0 || end < 0 ? played.length : end;
  if (to < played.length) mark = readFrom(from, to);
  return { from, to, falseStarts: given.falseStarts, mark: inAll(mark, from) };
}

/** What the beginnings before the take were: false starts, or (`back`) one that the take is a going back to. */
function beginnings(
  { target, played, beatSec = 0.5, beatsPerBar = 4 }: MarkRequest,
  starts: readonly number[],
  from: number,
  tempoRatio: number,
): { readonly falseStarts: number; readonly back: number | null } {
  const heads = [...starts.filter((start) => start < from), from];
  let falseStarts = 0;
  for (let h = 0; h < heads.length - 1; h++) {
    const start = heads[h]!;
    // A beginning lasts until a silence longer than its music; beginnings run into one another without one.
    let until = h + 1;
    let far = -1;
    for (; until < heads.length; until++) {
      const end = heads[until]!;
      far = reached(target, played.slice(start, end));
      if (far < 0) break;
      const due = far + 1 < target.length ? target[far + 1]!.onsetSec - target[far]!.onsetSec : beatSec;
      const left = (played[end]!.onsetSec - played[end - 1]!.onsetSec) * tempoRatio - due;
      if (left >= FALSE_BEATS * beatSec) break;
    }
    // Not the page's beginning: tuning, trying something out.
    if (far < 0) continue;
    const short = target[far]!.onsetSec - target[0]!.onsetSec < FALSE_BARS * beatsPerBar * beatSec;
    if (until === heads.length || !short) return { falseStarts, back: start };
    falseStarts++;
    h = until - 1;
  }
  return { falseStarts, back: null };
}

/** Verdicts that count in all that was played, not in the take alone. */
function inAll(mark: Mark, from: number): Mark {
  if (from === 0) return mark;
  const verdicts = mark.verdicts.map((v) => ({
    ...v,
    playedIndex: v.playedIndex === null ? null : v.playedIndex + from,
  }));
  return { ...mark, verdicts };
}
