import { HAND_FRETS } from '../hand/position.ts';

/** Where a note of a scale is played, and where the hand is. */
export interface Fingered {
  /** 1 = the highest string. */
  readonly string: number;
  readonly fret: number;
  /** Fret of the index finger while it is played; 1 in the open position. */
  readonly hand: number;
}

/** Highest fret offered. */
const LAST_FRET = 22;
/**
 * What a hand would rather not do, in points. Common practice, no source: a change of position costs the square of its
 * frets, less on the way within one string than across two; stretching the little finger or the index by a fret costs less
 * than moving; crossing to the next string is almost free, skipping one is not; the open strings belong to the first position.
 */
const COSTS = {
  shift: 2,
  shiftFrets: 0.25,
  shiftAcross: 1,
  stretch: 1.2,
  cross: 0.15,
  skip: 3,
  highFret: 0.02,
};

const isStretched = (fret: number, hand: number): boolean =>
  fret > 0 && (fret < hand || fret >= hand + HAND_FRETS);

/** Every place of a pitch with every hand that holds it: four frets under the fingers, and one either side by stretching. */
function placesOf(midi: number, strings: readonly number[]): Fingered[] {
  return strings.flatMap((open, i) => {
    const fret = midi - open;
    if (fret < 0 || fret > LAST_FRET) return [];
    const string = strings.length - i;
    if (fret === 0) return [{ string, fret, hand: 1 }];
    const hands: Fingered[] = [];
    for (let hand = Math.max(1, fret - HAND_FRETS); hand <= fret + 1; hand++)
      hands.push({ string, fret, hand });
    return hands;
  });
}

function moveCost(from: Fingered, to: Fingered): number {
  let cost = COSTS.highFret * to.fret + (isStretched(to.fret, to.hand) ? COSTS.stretch : 0);
  const moved = Math.abs(to.hand - from.hand);
  const crossed = Math.abs(to.string - from.string);
  if (moved > 0) cost += COSTS.shift + COSTS.shiftFrets * moved ** 2 + (crossed > 0 ? COSTS.shiftAcross : 0);
  if (crossed === 1) cost += COSTS.cross;
  if (crossed > 1) cost += COSTS.skip * (crossed - 1);
  return cost;
}

/**
 * The easiest fingering of a line from a given start: the cheapest way through all places and hands (Viterbi).
 *
 * @param midis sounding MIDI numbers in the order played; @param strings open strings, lowest first
 * @param start string of the first note and fret of the index finger there; null: free
 * @returns null where a note lies on no string, or none of the first note's places fits `start`
 */
export function fingering(
  midis: readonly number[],
  strings: readonly number[],
  start: { readonly string: number | null; readonly position: number | null },
): Fingered[] | null {
  const columns = midis.map((midi) => placesOf(midi, strings));
  if (columns.length === 0) return null;
  columns[0] = columns[0]!.filter(
    ({ string, fret, hand }) =>
      (start.string === null || string === start.string) &&
      (start.position === null ? !isStretched(fret, hand) : hand === start.position),
  );
  if (columns.some((column) => column.length === 0)) return null;
  // With nothing asked for a scale begins on its lowest string.
  let costs = columns[0]!.map(({ string, fret, hand }) =>
    start.string === null
      ? (strings.length - string) * 4 + fret * 0.02
      : isStretched(fret, hand)
        ? COSTS.stretch
        : 0,
  );
  const from: number[][] = [];
  for (let k = 1; k < columns.length; k++) {
    const back: number[] = [];
    costs = columns[k]!.map((to) => {
      let [best, at] = [Infinity, 0];
      columns[k - 1]!.forEach((place, i) => {
        const cost = costs[i]! + moveCost(place, to);
        if (cost < best) [best, at] = [cost, i];
      });
      back.push(at);
      return best;
    });
    from.push(back);
  }
  let at = costs.indexOf(Math.min(...costs));
  const way: Fingered[] = [];
  for (let k = columns.length - 1; k >= 0; k--) {
    way.unshift(columns[k]![at]!);
    if (k > 0) at = from[k - 1]![at]!;
  }
  return way;
}
