import { makeTest } from '../../src/tests-engine/index.ts';
import { STYLES } from '../../src/music/styles.ts';
import { heardOver } from './material/heard.ts';
const rows: [number, string][] = [];
let seed = 51_000_000;
for (const style of STYLES)
  for (const kind of ['melody', 'rhythm'] as const)
    for (const instrument of ['guitar', 'bass'] as const)
      for (const level of [1, 3, 5, 7, 8, 10]) {
        if (kind === 'rhythm' && level % 2 === 0) continue;
        const test = makeTest({ kind, level, seed: seed++, instrument, style });
        rows.push([await heardOver(test), `${style} ${kind} ${instrument} ${level} ${test.phrase.metre.beats}/${test.phrase.metre.beatUnit} seed ${seed - 1}`]);
      }
rows.sort((a, b) => a[0] - b[0]);
console.log(rows.length, 'under 6 dB:', rows.filter(([v]) => v < 6).length);
for (const [v, n] of rows.slice(0, 60)) console.log(v.toFixed(1), n);
