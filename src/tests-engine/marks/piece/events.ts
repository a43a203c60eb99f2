import type { Followed } from './follow.ts';
import type { PieceEvent, PieceRequest } from './types.ts';

/** A silence this much longer than what is written is a stop: common practice, no source. */
const STOP_BEATS = 2;
/** Beside the backing by this much for so many notes is worth a word. */
const BESIDE_BEATS = 0.75;
const BESIDE_NOTES = 4;

/** What happened to the whole, in order of playing. `played` on the backing's clock. */
export function pieceEvents(
  { target, played, beatSec }: PieceRequest,
  way: readonly Followed[],
): PieceEvent[] {
  const events: PieceEvent[] = [];
  const bar = (f: Followed): number => target[f.target]!.bar;
  const offBeats = (f: Followed): number =>
    (played[f.played]!.onsetSec - target[f.target]!.onsetSec) / beatSec;
  for (let k = 1; k < way.length; k++) {
    const [a, b] = [way[k - 1]!, way[k]!];
    const due = target[b.target]!.onsetSec - target[a.target]!.onsetSec;
    const took = played[b.played]!.onsetSec - played[a.played]!.onsetSec;
    // Sounds between that answer nothing are no silence.
    const silent = longestSilence(played, a.played, b.played);
    const written = longestRest(target, a.target, b.target);
    const waited = (silent - Math.min(written, silent)) / beatSec;
    const stopped = waited >= STOP_BEATS;
    if (b.target <= a.target) {
      if (bar(b) < bar(a) || a.target - b.target >= 3)
        events.push({ kind: 'wentBack', fromBar: bar(a), bar: bar(b) });
    } else if (stopped) {
      events.push({ kind: 'stopped', fromBar: bar(a), bar: bar(b), beats: Math.round(waited) });
    } else if (b.jumped && due - took > 2 * beatSec) {
      events.push({ kind: 'jumpedOn', fromBar: bar(a), bar: bar(b) });
    }
  }
  // Stretches beside the backing.
  for (let k = 0; k < way.length;) {
    const off = offBeats(way[k]!);
    let to = k + 1;
    if (Math.abs(off) >= BESIDE_BEATS) {
      while (to < way.length && Math.abs(offBeats(way[to]!) - off) < 0.5) to++;
      // What lies between a jump back and the jump on again is told by them.
      const between = way[k]!.jumped && to < way.length && way[to]!.jumped;
      if (to - k >= BESIDE_NOTES && !between)
        events.push({ kind: 'beside', bar: bar(way[k]!), toBar: bar(way[to - 1]!), beats: Math.round(off) });
    }
    k = to;
  }
  const last = way.at(-1);
  if (last && target.length - 1 - Math.max(...way.map((f) => f.target)) >= 3)
    events.push({ kind: 'ended', bar: Math.max(...way.map(bar)) });
  return events;
}

/** The longest time without an onset between two played notes, s. */
function longestSilence(played: PieceRequest['played'], from: number, to: number): number {
  let longest = 0;
  for (let j = from + 1; j <= to; j++)
    longest = Math.max(longest, played[j]!.onsetSec - played[j - 1]!.onsetSec);
  return longest;
}

/** The longest written distance of onsets between two written notes that follow; 0 where they go back. */
function longestRest(target: PieceRequest['target'], from: number, to: number): number {
  let longest = 0;
  for (let i = from + 1; i <= to; i++)
    longest = Math.max(longest, target[i]!.onsetSec - target[i - 1]!.onsetSec);
  return longest;
}
