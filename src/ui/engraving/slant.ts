/**
 * How far a beam rises over its group, in staff spaces, + upwards; from the notes' places on the staff
 * (half spaces, + upwards). Level where it starts and ends on one pitch, where an inner note comes nearer to
 * the beam than both ends, and where two pitches alternate; else by the interval between the ends, from half
 * a space for a second to two for a seventh (E. Gould, Behind Bars, 2011, "Beam angles"; figures from memory).
 *
 * @param places one for each note. @param stemsUp whether the beam lies above.
 */
export function beamSlant(places: readonly number[], stemsUp: boolean): number {
  const first = places[0]!;
  const last = places[places.length - 1]!;
  const inner = places.slice(1, -1);
  const nearer = stemsUp ? Math.max(first, last) : Math.min(first, last);
  if (inner.some((place) => (stemsUp ? place > nearer : place < nearer))) return 0;
  const alternating = places.length > 3 && places.every((place, i) => i < 2 || place === places[i - 2]);
  if (alternating) return 0;
  const interval = last - first;
  return Math.sign(interval) * (BY_INTERVAL[Math.abs(interval)] ?? 2);
}

/** Unison, second, third … sixth; two spaces from the seventh up. */
const BY_INTERVAL = [0, 0.5, 1, 1.25, 1.5, 1.75];
