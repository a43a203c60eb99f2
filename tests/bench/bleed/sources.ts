import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';

const DSP = resolve(import.meta.dirname, '../../../src/dsp');

/** A name for the state of some sources of `src/dsp` and of everything that they import, 8 hexadecimal digits. */
export function stateOf(...files: readonly string[]): string {
  const seen = new Map<string, string>();
  const visit = (path: string): void => {
    if (seen.has(path)) return;
    const text = readFileSync(path, 'utf8');
    seen.set(path, text);
    for (const [, from] of text.matchAll(/^(?:import|export)[^'"]*?from '(\.[^']+)'/gm))
      visit(resolve(path, '..', from!));
  };
  for (const file of files) visit(resolve(DSP, file));
  const hash = createHash('sha256');
  for (const path of [...seen.keys()].sort()) hash.update(seen.get(path)!).update('\0');
  return hash.digest('hex').slice(0, 8);
}
