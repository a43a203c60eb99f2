/** A semitone is heard up to so many cents beside it. */
const FARTHEST = 62;

/**
 * The instrument's overall tuning: the circular mean of the notes' distances from the nearest semitone, each
 * note weighted. Circular, because a guitar 48 cents flat has notes on either side of ±50. Which side of the
 * circle is meant is told by the semitones that were heard, so that one 55 cents sharp isn't heard a semitone up.
 *
 * @param fine fractional MIDI numbers @param semitones whole ones heard, within 80 cents @param weights ≥ 0; same lengths
 * @returns `cents` within ±62 and `agreement`, 0…1: how far the notes tell the same (resultant length of the circular
 *   mean, 1 if all agree); 0 and 0 where there is nothing to go by
 */
export function tuningOffset(
  fine: readonly number[],
  semitones: readonly number[],
  weights: readonly number[],
): { readonly cents: number; readonly agreement: number } {
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
  if ((x === 0 && y === 0) || total === 0) return { cents: 0, agreement: 0 };
  const circular = (Math.atan2(y, x) / (2 * Math.PI)) * 100;
  const meant = circular + 100 * Math.round(off / total - circular / 100);
  return { cents: Math.abs(meant) <= FARTHEST ? meant : circular, agreement: Math.hypot(x, y) / total };
}
