import type { Followed } from './follow.ts';

import type { BarState, PieceRequest } from './types.ts';

/** As in all marks: under this a note is not held against anyone. */
export const UNCLEAR = 0.5;
/** A third of its notes wrong, left out or put in: a bar that does not hold. Ours, no source. */
const BREAKS = 1 / 3;
/** So little of what is written that nothing was played. */
const HARDLY = 0.25;
/** Share of a bar that has to be heard before it is judged. */
const HEARD = 0.5;
/** Of a bar's notes one or this share may fail for a reason of the ear's: it misses a note in a hundred. */
const SLIP_SHARE = 0.15;

/** How each bar of the piece went. `played` on the backing's clock. */
export function barStates(
  { target, played, barSecs }: PieceRequest,
  way: readonly Followed[],
  answers: ReadonlyMap<number, Followed>,
  besideSec: number,
): BarState[] {
  const bars = barSecs.length - 1;
  const notesOf = Array.from({ length: bars }, (): number[] => []);
  target.forEach(({ bar }, i) => notesOf[bar]?.push(i));
  const barAtSec = (sec: number): number => {
    let k = 0;
    while (k < bars && barSecs[k + 1]! <= sec) k++;
    return sec < barSecs[0]! ? -1 : k;
  };
  const soundedIn = new Int32Array(bars);
  const strangersIn = new Int32Array(bars);
  const answering = new Map(way.map((f) => [f.played, f]));
  const extraIn = new Int32Array(bars);
  played.forEach((note, j) => {
    // A hair before the bar line belongs to the bar that begins there.
    const bar = barAtSec(note.onsetSec + besideSec / 2);
    if (bar < 0 || bar >= bars || note.confidence < UNCLEAR) return;
    soundedIn[bar]!++;
    const f = answering.get(j);
    if (!f) extraIn[bar]!++;
    else if (Math.abs(target[f.target]!.bar - bar) > 0) {
      const off = Math.abs(note.onsetSec - target[f.target]!.onsetSec);
      if (off > besideSec) strangersIn[bar]!++;
    }
  });
  return notesOf.map((notes, bar): BarState => {
    if (notes.length === 0) return 'rest';
    let right = 0;
    let beside = 0;
    let unclear = 0;
    let wrong = 0;
    let missed = 0;
    for (const i of notes) {
      const answer = answers.get(i);
      if (!answer) {
        missed++;
        continue;
      }
      const note = played[answer.played]!;
      const off = Math.abs(note.onsetSec - target[i]!.onsetSec);
      if (off > besideSec) beside++;
      else if (Math.abs(note.midi - target[i]!.midi) < 0.5) right++;
      else if (note.confidence < UNCLEAR) unclear++;
      else wrong++;
    }
    const { length } = notes;
    if (strangersIn[bar]! > soundedIn[bar]! / 2 && right + wrong < length / 2)
      return beside > length / 2 ? 'beside' : 'elsewhere';
    if (beside > length / 2) return 'beside';
    if (soundedIn[bar]! <= HARDLY * length && right <= HARDLY * length) return 'silent';
    if ((length - unclear) / length < HEARD) return 'unclear';
    const faults = wrong + missed + beside + extraIn[bar]!;
    if (faults > BREAKS * length || (length <= 3 && wrong + missed >= length)) return 'wrong';
    return faults > SLIP_SHARE * length || wrong > 0 ? (faults > 0 ? 'slip' : 'right') : 'right';
  });
}
