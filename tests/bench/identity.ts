import { parseArgs } from 'node:util';
import { figuresOf } from './figures.ts';
import { compare, type Compared } from './identity/compare.ts';
import { gradedTakes, holdsGrades, pages, simulatedTakes, takes, testsOf } from './identity/parts.ts';
import { bothSides } from './identity/sides.ts';
import { fftMicroseconds } from './yardstick.ts';

/**
 * Are tests, marks and notes what they were at another commit, and as fast? Both states run in one process, question by
 * question; answers are compared as JSON.
 *
 *   npm run bench:identity -- [COMMIT] [--grades FOLDER] [--parts tests,marks,ears,pages] [--every N] [--write]
 *
 * `--every N`: one take of N of the ears' sets. Exit 1 where something differs: say why in the commit that changed it.
 */
figuresOf('identity', 'bench:identity');
const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    grades: { type: 'string' },
    parts: { type: 'string', default: 'tests,marks,ears,pages' },
    every: { type: 'string', default: '1' },
  },
});
const commit = positionals[0] ?? 'c156564';
const wanted = values.parts.split(',');
const every = Number(values.every);
const sides = await bothSides(commit);
const before = fftMicroseconds();

const results: Compared[] = [];
if (wanted.includes('tests'))
  for (const kind of ['melody', 'rhythm', 'reading'] as const)
    results.push(await compare(`material: tests of ${kind}`, sides, testsOf(kind)));
if (wanted.includes('pages')) results.push(await compare('pages: signs of pages to read', sides, pages()));
if (wanted.includes('marks')) {
  if (values.grades !== undefined && holdsGrades(values.grades))
    results.push(await compare('marks: graded takes', sides, gradedTakes(values.grades)));
  else console.log('No folder of graded takes given (--grades): left out.');
  for (const kind of ['melody', 'rhythm'] as const)
    results.push(await compare(`marks: simulated takes of ${kind}`, sides, simulatedTakes(kind)));
}
if (wanted.includes('ears'))
  for (const set of ['dev', 'fresh'] as const)
    results.push(
      await compare(`ears: ${set} set${every > 1 ? `, one take of ${every}` : ''}`, sides, takes(set, every)),
    );

const fft = Math.min(before, fftMicroseconds());
console.log(`Commit ${commit} beside the present state; FFT ${fft.toFixed(0)} µs.\n`);
console.log(
  '| part | asked | different | SHA-256 was / is | was, s | is, s | is / was |\n|---|---|---|---|---|---|---|',
);
for (const { part, asked, different, hashes, seconds } of results) {
  const [was, is] = seconds;
  console.log(
    `| ${part} | ${asked} | ${different.length} | ${hashes.join(' / ')} | ${was.toFixed(2)} | ${is.toFixed(2)} | ${(is / was).toFixed(2)} |`,
  );
}
for (const { part, different } of results)
  if (different.length > 0)
    console.log(`\n${part}: ${different.slice(0, 12).join('; ')}${different.length > 12 ? ' …' : ''}`);
if (results.some(({ different }) => different.length > 0)) process.exitCode = 1;
