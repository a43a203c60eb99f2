import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';

let collect: (() => void) | null = null;

/**
 * Clears away what is no longer needed, now. Arrays of samples lie outside of what the engine counts, so it lets some hundred
 * megabytes of them pile up before it looks; ten milliseconds here keep the memory of a long job flat.
 */
export function tidy(): void {
  if (!collect) {
    setFlagsFromString('--expose-gc');
    collect = runInNewContext('gc') as () => void;
  }
  collect();
}
