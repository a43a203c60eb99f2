import { makeTest } from '../../src/tests-engine/index.ts';
import { STYLES } from '../../src/music/styles.ts';
import { heardOver } from './material/heard.ts';
let seed = Number(process.argv[2] ?? 51_000_000);
const cases = [['melody', 'guitar', 3], ['melody', 'guitar', 8], ['melody', 'bass', 5], ['melody', 'bass', 10], ['rhythm', 'guitar', 5], ['rhythm', 'bass', 3], ['melody', 'guitar', 6], ['melody', 'guitar', 1]] as const;
for (const [kind, instrument, level] of cases)
  for (const style of STYLES) {
    const test = makeTest({ kind, level, seed: seed++, instrument, style });
    console.log((await heardOver(test)).toFixed(1), style, kind, instrument, level, `${test.phrase.metre.beats}/${test.phrase.metre.beatUnit}`, 'seed', seed - 1);
  }
