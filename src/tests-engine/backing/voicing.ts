/** Lowest MIDI number of pitch class `pc` at or above `floor`. */
export const atOrAbove = (pc: number, floor: number): number => floor + ((((pc - floor) % 12) + 12) % 12);

/**
 * Chord tones as MIDI numbers inside one octave from `floor` up, lowest first: close position, so that from
 * chord to chord each voice moves as little as it can.
 */
export function closeVoicing(tones: readonly number[], floor: number): readonly number[] {
  return tones.map((pc) => atOrAbove(pc, floor)).sort((a, b) => a - b);
}
