import { parseArgs } from 'node:util';
import { FAMILIES, SPLITS } from '../../../audio-fixtures/index.ts';

const SETS = ['dev', 'tried', 'fresh', 'phrases'] as const;
export interface BenchOptions {
  readonly set: (typeof SETS)[number] | null;
  readonly families: readonly string[] | null;
  readonly split: 'a' | 'b' | null;
  readonly own: boolean;
  /** A neural transcriber as well, where it is installed: slow. */
  readonly neural: boolean;
  /** The live ear instead of the re-hearing. */
  readonly live: boolean;
  /** Folder of real recordings, each with a note list beside it. */
  readonly real: string | null;
  readonly json: boolean;
  readonly misses: boolean;
}

export const USAGE = `npm run bench:ears -- [--set dev|tried|fresh|phrases] [--family mel,rhy,…] [--split a|b] [--real DIR] [--live] [--own] [--neural] [--misses] [--json]
  without --set: the phrases, then the development set
  --split   only takes of one half of the banks    --own     only this project's listener
  --real    only the recordings of a folder, with a list NAME.json beside each NAME.wav
  --live    what is said while a take runs, and how soon
  --neural  basic-pitch too (slow); installed by npm i --prefix .cache/basic-pitch
            @spotify/basic-pitch@1.0.1 @tensorflow/tfjs-backend-wasm@3.21.0
  --misses  list what it got wrong                 --json    figures as JSON on stdout`;

/** Throws `RangeError` with the allowed values. */
export function benchOptions(argv: readonly string[]): BenchOptions {
  const { values } = parseArgs({
    args: [...argv],
    options: {
      set: { type: 'string' },
      family: { type: 'string' },
      split: { type: 'string' },
      real: { type: 'string' },
      own: { type: 'boolean', default: false },
      neural: { type: 'boolean', default: false },
      live: { type: 'boolean', default: false },
      misses: { type: 'boolean', default: false },
      json: { type: 'boolean', default: false },
    },
  });
  const set = SETS.find((name) => name === values.set) ?? null;
  if (values.set !== undefined && set === null)
    throw new RangeError(`--set is one of ${SETS.join(', ')}, got ${values.set}`);
  const families = values.family?.split(',') ?? null;
  for (const name of families ?? [])
    if (!Object.hasOwn(FAMILIES, name))
      throw new RangeError(`--family knows ${Object.keys(FAMILIES).join(', ')}, got ${name}`);
  const { split = null } = values;
  if (split !== null && split !== 'a' && split !== 'b')
    throw new RangeError(`--split is one of ${Object.keys(SPLITS).join(', ')}, got ${split}`);
  return {
    set,
    families,
    split,
    real: values.real ?? null,
    own: values.own,
    neural: values.neural,
    live: values.live,
    json: values.json,
    misses: values.misses,
  };
}
