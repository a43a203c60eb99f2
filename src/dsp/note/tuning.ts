/**
 * The instrument's overall tuning: the circular mean of the notes' distances from the nearest semitone, each
 * note weighted. Circular, because a guitar 48 cents flat has notes on either side of ±50.
 *
 * @param fine fractional MIDI numbers @param weights ≥ 0, same length
 * @returns −50…+50 cents; 0 where there is nothing to go by
 */
export function tuningOffset(fine: readonly number[], weights: readonly number[]): number {
  let x = 0;
  let y = 0;
  fine.forEach((midi, i) => {
    const angle = 2 * Math.PI * (midi - Math.round(midi));
    x += weights[i]! * Math.cos(angle);
    y += weights[i]! * Math.sin(angle);
  });
  return x === 0 && y === 0 ? 0 : (Math.atan2(y, x) / (2 * Math.PI)) * 100;
}
