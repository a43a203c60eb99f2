/** A word to be placed under a note. */
export interface Word {
  readonly x: number;
  /** CSS pixels it takes, with a little air. */
  readonly width: number;
}

/**
 * Puts words into as few lanes as they need without touching; a word is never moved sideways.
 * @returns the lane of each word, 0 = the upper; null where `lanes` are not enough.
 */
export function lanesFor(words: readonly Word[], lanes: number): (number | null)[] {
  const ends = Array.from({ length: lanes }, () => -Infinity);
  return words.map(({ x, width }) => {
    const lane = ends.findIndex((end) => end <= x - width / 2);
    if (lane < 0) return null;
    ends[lane] = x + width / 2;
    return lane;
  });
}
