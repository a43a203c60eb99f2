/** What has been seen of some JSON so far. */
export interface Brackets {
  readonly deepest: number;
  /** Lists and objects. */
  readonly containers: number;
  readonly bytes: number;
}

const QUOTE = 0x22;
const BACKSLASH = 0x5c;

/**
 * Looks through the bytes of JSON (UTF-8) before anything is made of them, a piece at a time: a few bytes of brackets
 * take a hundred times their room once they are lists. It is no check of the syntax: that is left to `JSON.parse`.
 *
 * @returns takes the next bytes, of any number, and gives what has been seen up to there
 */
export function bracketCounter(): (bytes: Uint8Array) => Brackets {
  let [depth, deepest, containers, length] = [0, 0, 0, 0];
  let inText = false;
  let escaped = false;
  return (bytes) => {
    length += bytes.length;
    for (const byte of bytes) {
      if (inText) {
        if (escaped) escaped = false;
        else if (byte === BACKSLASH) escaped = true;
        else if (byte === QUOTE) inText = false;
      } else if (byte === QUOTE) inText = true;
      else if (byte === 0x5b || byte === 0x7b) {
        containers++;
        if (++depth > deepest) deepest = depth;
      } else if (byte === 0x5d || byte === 0x7d) depth--;
    }
    return { deepest, containers, bytes: length };
  };
}
