/** A word to be placed under a note. */
export interface Word {
  readonly x: number;
  /** CSS pixels it takes, with a little air. */
  readonly width: number;
  /** Lines of text, one lane each. */
  readonly lines: number;
}

/**
 * Puts words into as few lanes as they need without touching; a word is never moved sideways.
 * @returns the lane of each word, 0 = the upper; null where `lanes` are not enough.
 */
export function lanesFor(words: readonly Word[], lanes: number): (number | null)[] {
  const ends = Array.from({ length: lanes }, () => -Infinity);
  return words.map(({ x, width, lines }) => {
    const left = x - width / 2;
    const lane = ends.findIndex(
      (_, i) => i + lines <= lanes && ends.slice(i, i + lines).every((end) => end <= left),
    );
    if (lane < 0) return null;
    ends.fill(x + width / 2, lane, lane + lines);
    return lane;
  });
}
