/**
 * How far a note lies from what its key makes a listener expect: the probe-tone ratings of Krumhansl and
 * Kessler, "Tracing the dynamic changes in perceived tonal organization", Psychological Review 89 (1982), as
 * printed in Krumhansl, Cognitive Foundations of Musical Pitch (1990), table 2.1; semitones above the tonic.
 */
const MAJOR = [6.35, 2.23, 3.48, 2.33, 4.38, 4.09, 2.52, 5.19, 2.39, 3.66, 2.29, 2.88];
const MINOR = [6.33, 2.68, 3.52, 5.38, 2.6, 3.53, 2.54, 4.75, 3.98, 2.69, 3.34, 3.17];

/**
 * Tonal distance of each of the twelve degrees, 0 (the tonic) … 1 (the most foreign), in a major-like or
 * minor-like key: (highest − rating) / (highest − lowest).
 */
export const tonalDistances = (minorThird: boolean): readonly number[] =>
  minorThird ? MINOR_DISTANCES : MAJOR_DISTANCES;

function distancesOf(ratings: readonly number[]): readonly number[] {
  const high = Math.max(...ratings);
  const low = Math.min(...ratings);
  return ratings.map((rating) => (high - rating) / (high - low));
}
const MAJOR_DISTANCES = distancesOf(MAJOR);
const MINOR_DISTANCES = distancesOf(MINOR);
