import { agreement, load, SETS } from './marks/agreement.ts';
import { cleanRanges } from './marks/clean.ts';
import { edges } from './marks/edges.ts';
import { hostile } from './marks/hostile.ts';
import { realSound } from './marks/realSound.ts';
import { sensitivity } from './marks/sensitivity.ts';
import { speed } from './marks/speed.ts';
import { study } from './marks/study.ts';

/**
 * `npm run bench:marks -- [folder of graded takes] [folder for the plot]`: agreement with examiners where the takes
 * are at hand, how it hangs on each number of the rule, simulated performers, and speed.
 */
const [folder, plots] = process.argv.slice(2);
if (folder === undefined) console.log('No folder of graded takes given: agreement left out.');
else
  for (const set of SETS) {
    const takes = load(folder, set);
    if (takes === null) {
      console.log(`${set.file} is not in ${folder}: left out.`);
      continue;
    }
    agreement(takes, set);
    sensitivity(takes, set.name);
  }
speed();
edges();
hostile();
await realSound();
await cleanRanges();
study(plots ?? '.cache/bench');
