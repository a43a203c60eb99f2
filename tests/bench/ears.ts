import {
  absentFamilies,
  absentNoises,
  developmentSet,
  freshSet,
  loadBanks,
  phraseSet,
  SPLITS,
  triedSet,
} from '../../audio-fixtures/index.ts';
import { aubioInstalled, aubioListener } from './ears/aubio.ts';
import { liveTable } from './ears/live.ts';
import { naiveListener } from './ears/naive.ts';
import { neuralInstalled, neuralListener } from './ears/neural.ts';
import { benchOptions, USAGE } from './ears/options.ts';
import { ownListener } from './ears/own.ts';
import { realTable } from './ears/real.ts';
import { confidenceTable, familyTable, negativeTable, noiseLines, outsideLine } from './ears/report.ts';
import { runAll } from './ears/score.ts';
import { fftMicroseconds } from './yardstick.ts';
import type { TakeRecipe } from '../../audio-fixtures/index.ts';
import type { BenchOptions } from './ears/options.ts';
import type { BenchListener } from './ears/listener.ts';

/** How well and how fast notes are heard, beside other programs on the same takes. See USAGE. */

function readOptions(): BenchOptions {
  try {
    return benchOptions(process.argv.slice(2));
  } catch (error) {
    console.error(`${(error as Error).message}\n${USAGE}`);
    process.exit(2);
  }
}

const options = readOptions();
const say = (text: string): void => void process.stderr.write(text);

const banks = await loadBanks();
const SETS: Record<NonNullable<BenchOptions['set']>, () => Promise<TakeRecipe[]>> = {
  phrases: phraseSet,
  dev: () => developmentSet(banks.all),
  tried: () => triedSet(banks.all),
  fresh: () => freshSet(banks.all),
};

async function listeners(): Promise<BenchListener[]> {
  const own = ownListener();
  if (options.own) return [own];
  const others = aubioInstalled() ? [aubioListener('specflux'), aubioListener('hfc')] : [];
  if (others.length === 0) say('python3-aubio is not installed: its rows are left out\n');
  if (options.neural && neuralInstalled()) others.push(await neuralListener());
  else if (options.neural) say('basic-pitch is not installed: its row is left out (see --neural)\n');
  return [own, ...others, naiveListener()];
}

const chosen = (recipes: readonly TakeRecipe[]): TakeRecipe[] =>
  recipes.filter(
    ({ family, bank }) =>
      (options.families?.includes(family) ?? true) &&
      (options.split === null || (SPLITS[options.split] as readonly string[]).includes(bank)),
  );

// Before and after, the lesser: on a machine that does other things as well the moment before says little.
let microseconds = fftMicroseconds();
const json: Record<string, unknown> = { absentBanks: banks.absent };
const text: string[] = [];
if (banks.absent.length)
  text.push(
    `absent banks (Debian's fluid-soundfont-gm or freepats is not installed): ${banks.absent.join(', ')}`,
  );
if (absentNoises().length) text.push(`absent noises (packages not installed): ${absentNoises().join(', ')}`);
if (absentFamilies().length)
  text.push(`absent families (espeak-ng is not installed): ${absentFamilies().join(', ')}`);

const all = await listeners();
if (options.real) text.push('', ...(await realTable(options.real, all)));
const sets = options.set ? [options.set] : options.real ? [] : (['phrases', 'dev'] as const);
for (const set of sets) {
  const recipes = chosen(await SETS[set]());
  if (options.live) {
    text.push('', `== ${set}`, ...liveTable(recipes));
    continue;
  }
  const results = await runAll(recipes, all, (done) => {
    if (process.stderr.isTTY) say(`\r${set} ${done}/${recipes.length} `);
  });
  text.push('', `== ${set}${options.split ? `, banks ${options.split}` : ''}`, ...familyTable(results));
  text.push(
    '',
    ...negativeTable(results),
    '',
    outsideLine(results),
    ...noiseLines(results),
    '',
    ...confidenceTable(results.get('twobar')!),
  );
  if (options.misses)
    for (const { id, wrong } of results.get('twobar')!)
      if (wrong.length) text.push(`${id}: ${wrong.join('; ')}`);
  json[set] = Object.fromEntries(results);
}
for (const listener of all) listener.close();
microseconds = Math.min(microseconds, fftMicroseconds());
json.fftMicroseconds = microseconds;
text.unshift(`2048-point complex radix-2 FFT: ${microseconds.toFixed(0)} µs`);
console.log(options.json ? JSON.stringify(json) : text.join('\n'));
