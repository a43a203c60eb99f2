import { appendFileSync, existsSync, mkdirSync, readFileSync } from 'node:fs';
import { createHash } from 'node:crypto';
import { readdirSync } from 'node:fs';
import { resolve } from 'node:path';
import { CONDITIONS } from './bleed/conditions.ts';
import { bleedOptions, USAGE, type BleedOptions } from './bleed/options.ts';
import { conditionTable, speedLine, verdictTable } from './bleed/report.ts';
import { runScene, type BleedResult } from './bleed/run.ts';
import { instrumentOf, makeOrdered } from './bleed/takes.ts';
import { fftMicroseconds } from './ears/yardstick.ts';

/** How well notes are heard while a loudspeaker plays the backing into the microphone. See USAGE. */

const SAMPLE_RATE = 44_100;
const CACHE = resolve(import.meta.dirname, '../../.cache/bleed');
const SOURCES = resolve(import.meta.dirname, '../../src/dsp/bleed');

function readOptions(): BleedOptions {
  try {
    return bleedOptions(process.argv.slice(2));
  } catch (error) {
    console.error(`${(error as Error).message}\n${USAGE}`);
    process.exit(2);
  }
}

/** Results belong to one state of the chain; the listener's own state is not looked at: see --again. */
function resultsPath(): string {
  const hash = createHash('sha256');
  for (const name of readdirSync(SOURCES).sort()) hash.update(readFileSync(`${SOURCES}/${name}`));
  return `${CACHE}/bench-${hash.digest('hex').slice(0, 8)}.jsonl`;
}

const options = readOptions();
const microseconds = fftMicroseconds();
mkdirSync(CACHE, { recursive: true });
const path = resultsPath();
const known: BleedResult[] =
  existsSync(path) && !options.again
    ? readFileSync(path, 'utf8')
        .split('\n')
        .filter((line) => line !== '')
        .map((line) => JSON.parse(line) as BleedResult)
    : [];

const results: BleedResult[] = [];
const chosen = CONDITIONS.filter(({ name }) => options.conditions.includes(name));
for (let number = options.first; number < options.first + options.scenes; number++)
  for (const { name, is } of chosen) {
    let result = known.find((r) => r.number === number && r.condition === name);
    if (!result) {
      const order = { number, condition: name, is, sampleRate: SAMPLE_RATE };
      result = runScene(order, await makeOrdered(order), instrumentOf(number));
      appendFileSync(path, `${JSON.stringify(result)}\n`);
      if (process.stderr.isTTY) process.stderr.write(`\r${number} ${name}          `);
    }
    results.push(result);
  }

if (options.json) console.log(JSON.stringify({ fftMicroseconds: microseconds, results }));
else
  console.log(
    [
      `2048-point complex radix-2 FFT: ${microseconds.toFixed(0)} µs`,
      '',
      ...conditionTable(results),
      '',
      ...verdictTable(results),
      '',
      speedLine(results, microseconds),
    ].join('\n'),
  );
