import { bracketCounter } from '../exchange/index.ts';
import { MOST } from './limits.ts';
import { ImportProblem } from './problem.ts';

/**
 * Looks through JSON as it is unpacked, before anything is made of it.
 * @returns takes the next bytes. @throws ImportProblem 'invalid' for what is nested too deeply, 'too-big' for more lists
 *   and objects than so many bytes of a record have.
 */
export function watchJson(): (bytes: Uint8Array) => void {
  const count = bracketCounter();
  return (next) => {
    const { deepest, containers, bytes } = count(next);
    if (deepest > MOST.depth) throw new ImportProblem('invalid', 'it is nested too deeply');
    if (containers > MOST.freeContainers + bytes / MOST.bytesPerContainer)
      throw new ImportProblem('too-big', `${containers} lists and objects in ${bytes} bytes`);
  };
}
