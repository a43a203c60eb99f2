import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { allBanks } from './banks.ts';

/**
 * Makes what the listener has learnt again, from recorded notes to the data files that ship:
 *
 *   npm run fit -- [decision] [veto] [lines] [placement] [over] [chords] [--check]
 *
 * Without a name all of them. `--check`: tells whether the same bytes come out, and leaves the files as they are.
 */
const DSP = resolve(import.meta.dirname, '../dsp');
const FITS: Readonly<Record<string, readonly string[]>> = {
  decision: ['decision/weights.json'],
  veto: ['decision/vetoWeights.json'],
  lines: ['decision/lines.json'],
  placement: ['bleed/placementWeights.json'],
  over: ['bleed/overWeights.json'],
  chords: ['chords/fitted/levels.json', 'chords/fitted/decision.json'],
};

const args = process.argv.slice(2);
const check = args.includes('--check');
const asked = args.filter((arg) => arg !== '--check');
const stranger = asked.find((name) => !Object.hasOwn(FITS, name));
if (stranger !== undefined) {
  console.error(`There is no fit "${stranger}"; there are ${Object.keys(FITS).join(', ')}.`);
  process.exit(2);
}
try {
  await allBanks();
} catch (error) {
  console.error((error as Error).message);
  process.exit(1);
}
const read = (file: string): string => readFileSync(join(DSP, file), 'utf8');
for (const name of asked.length > 0 ? asked : Object.keys(FITS)) {
  const files = FITS[name]!;
  const before = files.map(read);
  const script = join(import.meta.dirname, `${name}.ts`);
  const { status } = spawnSync(process.execPath, [...process.execArgv, script], { stdio: 'inherit' });
  if (status !== 0) process.exit(status ?? 1);
  files.forEach((file, k) => {
    const same = read(file) === before[k];
    console.log(`${file}: ${same ? 'the same, bit for bit' : 'DIFFERENT'}`);
    if (!same) process.exitCode = check ? 1 : 0;
    if (check) writeFileSync(join(DSP, file), before[k]!);
  });
}
