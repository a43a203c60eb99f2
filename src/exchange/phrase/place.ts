/** Frets under the hand without moving it. */
const HAND = 4;
const HIGHEST_FRET = 24;

export interface Place {
  /** 1 = the highest string. */
  readonly string: number;
  readonly fret: number;
}

/** On the highest string that has it among frets `from`…`to`, or open; null: nowhere. */
function under(
  midi: number,
  tuning: readonly number[],
  from: number,
  to: number,
  open: boolean,
): Place | null {
  for (let i = tuning.length - 1; i >= 0; i--) {
    const fret = midi - tuning[i]!;
    if ((fret >= from && fret <= to) || (open && fret === 0)) return { string: tuning.length - i, fret };
  }
  return null;
}

/**
 * Where to play each pitch: all in the lowest hand position that holds them (open strings in the first), or,
 * where none does, each at its lowest fret. null for a pitch that the instrument does not have.
 */
export function placeAll(pitches: readonly number[], tuning: readonly number[]): readonly (Place | null)[] {
  for (let position = 1; position + HAND - 1 <= HIGHEST_FRET; position++) {
    const places = pitches.map((p) => under(p, tuning, position, position + HAND - 1, position === 1));
    if (places.every((place) => place !== null)) return places;
  }
  return pitches.map((p) => under(p, tuning, 0, HIGHEST_FRET, true));
}
