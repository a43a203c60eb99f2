import type { PracticeTest } from '../../../src/music/score.ts';
import {
  clashes,
  hearingSheet,
  makeTest,
  performanceSheet,
  wholeSheet,
} from '../../../src/tests-engine/index.ts';
import { ebur128 } from '../../support/ebur128.ts';
import { nodeRenderer } from '../../support/node-renderer.ts';

const EACH = 20;
const LEVELS = 10;
const SAMPLE_RATE = 44_100;

const madeAs = (level: number, k: number): PracticeTest =>
  makeTest({
    kind: k % 2 ? 'rhythm' : 'melody',
    level,
    seed: 1000 * level + k,
    instrument: k % 4 < 2 ? 'guitar' : 'bass',
  });

/**
 * Ten tests a level as sound (what `twobar sound` writes), heard by another program's meter, and how often a melody's
 * notes lie a minor second from a note that sounds in the backing; over these and over a thousand melodies a level.
 */
export async function sound(): Promise<void> {
  const renderer = nodeRenderer();
  console.log(
    `\nsound: level  LUFS least  most   true peak dBTP   minor seconds of notes   blue notes apart`,
  );
  let [least, most, highest] = [Infinity, -Infinity, -Infinity];
  for (let level = 1; level <= LEVELS; level++) {
    const tests = Array.from({ length: EACH }, (_, k) => madeAs(level, k));
    const loud: number[] = [];
    let peak = -Infinity;
    for (const test of tests) {
      const [hearing] = await renderer.render([hearingSheet(test), performanceSheet(test)], {
        sampleRate: SAMPLE_RATE,
      });
      const { gainDb } = hearing!;
      const [whole] = await renderer.render([wholeSheet(test)], { sampleRate: SAMPLE_RATE, gainDb });
      const heard = ebur128(whole!.samples, SAMPLE_RATE);
      loud.push(heard.lufs);
      peak = Math.max(peak, heard.truePeakDb);
    }
    const count = { notes: 0, minorSeconds: 0, blue: 0 };
    for (let seed = 0; seed < 1000; seed++) {
      const found = clashes(
        makeTest({ kind: 'melody', level, seed, instrument: seed % 2 ? 'bass' : 'guitar' }),
      );
      for (const key of ['notes', 'minorSeconds', 'blue'] as const) count[key] += found[key];
    }
    const share = (x: number): string => `${((100 * x) / count.notes).toFixed(2)} %`;
    console.log(
      `       ${String(level).padStart(5)} ${Math.min(...loud)
        .toFixed(1)
        .padStart(
          11,
        )} ${Math.max(...loud).toFixed(1)} ${peak.toFixed(1).padStart(12)} ${`${share(count.minorSeconds - count.blue)} of ${count.notes}`.padStart(28)} ${share(count.blue).padStart(14)}`,
    );
    [least, most] = [Math.min(least, ...loud), Math.max(most, ...loud)];
    highest = Math.max(highest, peak);
  }
  console.log(
    `all ${LEVELS * EACH}: ${least.toFixed(1)} … ${most.toFixed(1)} LUFS, true peak at most ${highest.toFixed(1)} dBTP`,
  );
}
