import { MOST } from './limits.ts';
import { ImportProblem } from './problem.ts';

const QUOTE = 0x22;
const BACKSLASH = 0x5c;
const OPEN = [0x5b, 0x7b];
const CLOSE = [0x5d, 0x7d];

/**
 * Looks through the bytes of JSON as they are unpacked, before anything is made of them: a few bytes of brackets take
 * a hundred times their room once they are lists. It is no check of the syntax: that is left to `JSON.parse`.
 *
 * @returns takes the next bytes, of any number. @throws ImportProblem 'invalid' for what is nested too deeply,
 *   'too-big' for more lists and objects than so many bytes of a record have.
 */
export function bracketCounter(): (bytes: Uint8Array) => void {
  let [depth, containers, length] = [0, 0, 0];
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
      else if (byte === OPEN[0] || byte === OPEN[1]) {
        containers++;
        if (++depth > MOST.depth) throw new ImportProblem('invalid', 'it is nested too deeply');
      } else if (byte === CLOSE[0] || byte === CLOSE[1]) depth--;
    }
    if (containers > MOST.freeContainers + length / MOST.bytesPerContainer)
      throw new ImportProblem('too-big', `${containers} lists and objects in ${length} bytes`);
  };
}
