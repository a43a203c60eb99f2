import { agreement, load, SETS } from './marks/agreement.ts';
import { cleanRanges } from './marks/clean.ts';
import { edges } from './marks/edges.ts';
import { hostile } from './marks/hostile.ts';
import { measures } from './marks/measures.ts';
import { nested } from './marks/nested.ts';
import { realSound } from './marks/realSound.ts';
import { sensitivity } from './marks/sensitivity.ts';
import { speed } from './marks/speed.ts';
import { study } from './marks/study.ts';

/**
 * `npm run bench:marks -- [folder of graded takes] [folder for the plot] [--long] [--nested]`: agreement with examiners where the
 * takes are at hand, how it hangs on each number of the rule, simulated performers, and speed. `--long` looks at more
 * takes where that takes minutes: single milliseconds, the search for the worst, clean takes heard anew. `--nested` does
 * nothing but choose the prices of melodies anew on parts of the takes, and judge them on the rest.
 */
const args = process.argv.slice(2);
const long = args.includes('--long');
const onlyNested = args.includes('--nested');
const [folder, plots] = args.filter((x) => !x.startsWith('--'));
const began = Date.now();
/** What a part took: all of it is meant to end within ten minutes. */
const timed = async (name: string, part: () => void | Promise<void>): Promise<void> => {
  const start = Date.now();
  await part();
  console.log(`\n(${name}: ${((Date.now() - start) / 1000).toFixed(0)} s)`);
};
if (folder === undefined) console.log('No folder of graded takes given: agreement left out.');
else
  for (const set of SETS) {
    const takes = load(folder, set);
    if (takes === null) {
      console.log(`${set.file} is not in ${folder}: left out.`);
      continue;
    }
    if (onlyNested) {
      if (set.name !== 'melody') continue;
      measures(takes);
      nested(takes);
      continue;
    }
    agreement(takes, set);
    sensitivity(takes, set.name);
  }
if (!onlyNested) {
  await timed('speed', speed);
  await timed('one more', () => edges(long));
  await timed('the worst', () => hostile(long));
  await timed('real sound', realSound);
  await timed('clean takes', () => cleanRanges(long));
  await timed('simulated performers', () => study(plots ?? '.cache/bench'));
}
console.log(`\nAll in ${((Date.now() - began) / 60_000).toFixed(1)} minutes.`);
