import { CONDITIONS } from './bleed/conditions.ts';
import { bleedOptions, USAGE, type BleedOptions } from './bleed/options.ts';
import { conditionTable, speedLine, verdictTable } from './bleed/report.ts';
import { orderCancelled } from './bleed/cancelled.ts';
import { recallScene, runScene, type BleedResult } from './bleed/run.ts';
import { figuresOf } from './figures.ts';
import { fftMicroseconds } from './yardstick.ts';

/** How well notes are heard while a loudspeaker plays the backing into the microphone. See USAGE. */

figuresOf('bleed', 'bench:bleed');

function readOptions(): BleedOptions {
  try {
    return bleedOptions(process.argv.slice(2));
  } catch (error) {
    console.error(`${(error as Error).message}\n${USAGE}`);
    process.exit(2);
  }
}

const WHO = { none: 'the time before chords', 2: 'arranger 2', 3: 'arranger 3', 4: 'arranger 4' };
const options = readOptions();
const microseconds = fftMicroseconds();
const chosen = CONDITIONS.filter(({ name }) => options.conditions.includes(name));
const results: BleedResult[] = [];
for (let number = options.first; number < options.first + options.scenes; number++)
  for (const backing of options.backings)
    for (const { name, is, nothing } of chosen) {
      // The plain listener uses highs that a bled scene, heard at 24 kHz anyway, need not have.
      const sampleRate = is.bleedDb === null ? Math.max(44_100, options.rate) : options.rate;
      const order = { number, condition: name, is, sampleRate, backing };
      if (options.stage === 'cancel') await orderCancelled(order);
      else if (options.stage === 'hear') results.push(await runScene(order, nothing ?? false));
      else results.push(...[recallScene(order)].filter((r) => r !== null));
      if (process.stderr.isTTY) process.stderr.write(`\r${number} ${name} over ${backing}          `);
    }

if (options.json) console.log(JSON.stringify({ fftMicroseconds: microseconds, results }));
else if (options.stage !== 'cancel')
  console.log(
    [
      `2048-point complex radix-2 FFT: ${microseconds.toFixed(0)} µs`,
      '',
      ...options.backings.flatMap((backing) => {
        const own = results.filter((r) => r.backing === backing);
        const title = options.backings.length > 1 ? [`over the backings of ${WHO[backing]}`] : [];
        return [...title, ...conditionTable(own), '', ...verdictTable(own), ''];
      }),
      speedLine(results, microseconds),
    ].join('\n'),
  );
