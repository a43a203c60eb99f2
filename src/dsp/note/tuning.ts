/**
 * The instrument's overall tuning: the circular mean of the notes' distances from the nearest semitone, each
 * note weighted. Circular, because a guitar 48 cents flat has notes on either side of ±50. Which side of the
 * circle is meant is told by the semitones that were heard, so that one 55 cents sharp isn't heard a semitone up.
 *
 * @param fine fractional MIDI numbers @param semitones whole ones heard, within 80 cents @param weights ≥ 0; same lengths
 * @returns cents, within ±50 of the notes' weighted mean distance from their semitones; 0 where there is nothing to go by
 */
export function tuningOffset(
  fine: readonly number[],
  semitones: readonly number[],
  weights: readonly number[],
): number {
  let x = 0;
  let y = 0;
  let off = 0;
  let total = 0;
  fine.forEach((midi, i) => {
    const angle = 2 * Math.PI * (midi - Math.round(midi));
    x += weights[i]! * Math.cos(angle);
    y += weights[i]! * Math.sin(angle);
    off += weights[i]! * (midi - semitones[i]!);
    total += weights[i]!;
  });
  if ((x === 0 && y === 0) || total === 0) return 0;
  const circular = (Math.atan2(y, x) / (2 * Math.PI)) * 100;
  return circular + 100 * Math.round(off / total - circular / 100);
}
