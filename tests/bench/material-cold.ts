import { spawnSync } from 'node:child_process';
import { join } from 'node:path';

/**
 * How fast a fresh process prints a thousand tests, side by side in one run: as asked for (`npm run -s twobar`), without
 * npm, with the sources translated at the start (tsx), and what npm and Node take to do nothing.
 *
 *   npx tsx tests/bench/material-cold.ts [RUNS]
 */
const root = join(import.meta.dirname, '../..');
const runs = Number(process.argv[2] ?? 10);
const COUNT = 1000;

interface Cost {
  readonly wall: number;
  readonly cpu: number;
}

/** Seconds on the clock, and of all cores by the process and its children. */
function cost(command: string): Cost {
  const timed = spawnSync('bash', ['-c', `TIMEFORMAT='%R %U %S'; time ${command} >/dev/null`], {
    cwd: root,
    encoding: 'utf8',
  });
  const times = /(\S+) (\S+) (\S+)\s*$/.exec(timed.stderr);
  if (timed.status !== 0 || !times) throw new Error(`${command}: ${timed.stderr}`);
  return { wall: Number(times[1]), cpu: Number(times[2]) + Number(times[3]) };
}
const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;

/** Each way once in turn, so that what else the machine does falls on all alike. */
function sideBySide(ways: Readonly<Record<string, string>>): string {
  const costs = new Map(Object.keys(ways).map((name) => [name, [] as Cost[]]));
  for (let i = 0; i < runs; i++)
    for (const [name, command] of Object.entries(ways)) costs.get(name)!.push(cost(command));
  return [...costs]
    .map(([name, all]) => {
      const walls = all.map(({ wall }) => wall);
      const cpu = median(all.map((one) => one.cpu));
      return `${name} ${median(walls).toFixed(2)} s (least ${Math.min(...walls).toFixed(2)}; CPU ${cpu.toFixed(2)})`;
    })
    .join(' · ');
}

console.log(`wall of ${runs} runs each, median`);
console.log(
  sideBySide({
    'node -e 0': 'node -e 0',
    '--help': 'node src/cli/start.js --help',
    'npm --help': 'npm run -s twobar -- --help',
  }),
);
for (const [kind, levels] of [
  ['melody', [1, 3, 5, 8, 10]],
  ['rhythm', [1, 5, 10]],
] as const)
  for (const level of levels) {
    const args = `make --kind ${kind} --level ${level} --seed 1 --count ${COUNT}`;
    console.log(
      `${kind} ${level}: ${sideBySide({
        npm: `npm run -s twobar -- ${args}`,
        node: `node src/cli/start.js ${args}`,
        tsx: `node --import tsx/esm src/cli/main.ts ${args}`,
      })}`,
    );
  }
