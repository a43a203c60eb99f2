import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';

const ROOT = resolve(import.meta.dirname, '../..');

/** What makes takes and measures them frame by frame. */
export const MEASURING = [
  'audio-fixtures/banks',
  'audio-fixtures/effects',
  'audio-fixtures/families',
  'audio-fixtures/noises',
  'audio-fixtures/plans',
  'audio-fixtures/attack.ts',
  'audio-fixtures/player.ts',
  'audio-fixtures/resample.ts',
  'audio-fixtures/voice.ts',
  'src/dsp/frames',
  'src/dsp/signal',
  'src/dsp/simd',
  'src/dsp/spectrum',
  'src/dsp/pitch/blockProducts.ts',
  'src/dsp/pitch/salience.ts',
];
/** And what looks for candidates and measures their features. */
export const LOOKING = [
  ...MEASURING,
  'src/music/numbers.ts',
  'src/dsp/onsets',
  'src/dsp/pitch/comb.ts',
  'src/dsp/pitch/growth.ts',
  'src/dsp/decision/continuity.ts',
  'src/dsp/decision/features.ts',
  'src/dsp/decision/levels.ts',
  'src/dsp/decision/partials.ts',
  'src/dsp/decision/periodicity.ts',
  'src/dsp/decision/renewal.ts',
  'src/dsp/hear/analysis.ts',
];

/** And what fits a decision and applies it. */
export const DECIDING = [
  ...LOOKING,
  'src/dsp/decision/accept.ts',
  'src/dsp/decision/context.ts',
  'src/dsp/decision/looks.ts',
  'src/dsp/decision/trees.ts',
  'src/training/boost.ts',
  'src/training/label.ts',
  'src/training/looks.ts',
  'src/training/options.ts',
];

function files(path: string): string[] {
  if (!statSync(path).isDirectory()) return [path];
  return readdirSync(path)
    .sort()
    .flatMap((name) => files(join(path, name)));
}

/** A git-ignored folder of its own for every state of the given sources. */
export function cacheFolder(name: string, sources: readonly string[]): string {
  const hash = createHash('sha256');
  for (const source of sources)
    for (const file of files(join(ROOT, source))) if (file.endsWith('.ts')) hash.update(readFileSync(file));
  return join(ROOT, '.cache/ears', `${name}-${hash.digest('hex').slice(0, 12)}`);
}
