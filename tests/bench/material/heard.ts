import FFT from 'fft.js';
import type { PracticeTest } from '../../../src/music/score.ts';
import { backingSheet, makeTest, phraseSheet } from '../../../src/tests-engine/index.ts';
import { nodeRenderer } from '../../support/node-renderer.ts';

const RATE = 44_100;
const SIZE = 4096;
const HOP = 2048;
/** Third octaves from 63 Hz to 6.3 kHz. */
const BANDS = Array.from({ length: 21 }, (_, i) => 63 * 2 ** (i / 3));

/** Energy by third octave of each frame. */
function bandsOf(samples: Float32Array): number[][] {
  const fft = new FFT(SIZE);
  const window = Float64Array.from(
    { length: SIZE },
    (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / SIZE),
  );
  const out = fft.createComplexArray();
  const frames: number[][] = [];
  for (let at = 0; at + SIZE <= samples.length; at += HOP) {
    fft.realTransform(
      out,
      Array.from(window, (w, i) => w * samples[at + i]!),
    );
    frames.push(
      BANDS.map((centre) => {
        const [low, high] = [centre * 2 ** (-1 / 6), centre * 2 ** (1 / 6)];
        let sum = 0;
        for (let k = Math.ceil((low * SIZE) / RATE); k < (high * SIZE) / RATE; k++)
          sum += out[2 * k]! ** 2 + out[2 * k + 1]! ** 2;
        return sum;
      }),
    );
  }
  return frames;
}

/**
 * The phrase over its backing in the phrase's own band, dB: over the frames in which the phrase sounds (within 30 dB
 * of its loudest), the energy of both in the fewest third octaves that hold nine tenths of the phrase's.
 */
export function overBacking(phrase: Float32Array, backing: Float32Array): number {
  const [mine, theirs] = [bandsOf(phrase), bandsOf(backing)];
  const total = mine.map((frame) => frame.reduce((a, b) => a + b, 0));
  const floor = Math.max(...total) / 1000;
  const sum = BANDS.map((_, b) => mine.reduce((s, frame, i) => s + (total[i]! > floor ? frame[b]! : 0), 0));
  const other = BANDS.map((_, b) =>
    theirs.reduce((s, frame, i) => s + ((total[i] ?? 0) > floor ? frame[b]! : 0), 0),
  );
  const whole = sum.reduce((a, b) => a + b, 0);
  const order = BANDS.map((_, b) => b).sort((a, b) => sum[b]! - sum[a]!);
  let [own, against] = [0, 0];
  for (const b of order) {
    if (own >= 0.9 * whole) break;
    own += sum[b]!;
    against += other[b]!;
  }
  return 10 * Math.log10(own / Math.max(against, 1e-12));
}

const renderer = nodeRenderer();
export async function heardOver(test: PracticeTest): Promise<number> {
  // Both by one gain, whatever it is: only their ratio is asked.
  const [phrase, backing] = await renderer.render([phraseSheet(test), backingSheet(test)], {
    sampleRate: RATE,
    gainDb: 0,
  });
  return overBacking(phrase!.samples, backing!.samples);
}

/** Melody over backing by level and by style; the least of each level, dB. */
export async function heard(each: number, from: number): Promise<readonly number[]> {
  const least: number[] = [];
  console.log(
    `\nphrase over backing in the phrase's own band, dB (${each} tests a level): level  least  median | kind by style: least`,
  );
  const byStyle = new Map<string, number[]>();
  for (let level = 1; level <= 10; level++) {
    const values: number[] = [];
    for (let i = 0; i < each; i++) {
      const test = makeTest({
        kind: i % 3 === 2 ? 'rhythm' : 'melody',
        level,
        seed: from + level * 100 + i,
        instrument: i % 4 === 3 ? 'bass' : 'guitar',
      });
      const value = await heardOver(test);
      values.push(value);
      const name = `${test.kind} ${test.instrument} ${test.style}`;
      byStyle.set(name, [...(byStyle.get(name) ?? []), value]);
    }
    values.sort((a, b) => a - b);
    least.push(values[0]!);
    console.log(
      `${String(level).padStart(4)} ${values[0]!.toFixed(1).padStart(6)} ${values[Math.floor(values.length / 2)]!.toFixed(1).padStart(6)}`,
    );
  }
  for (const [name, values] of [...byStyle].sort())
    console.log(`${name}: ${Math.min(...values).toFixed(1)} (${values.length})`);
  return least;
}
