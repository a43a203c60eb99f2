import type { Phrase, PracticeTest } from '../../../src/music/score.ts';
import { barTicks, difficulty, makeTest } from '../../../src/tests-engine/index.ts';
import { metricWeights, syncopations } from '../../../src/tests-engine/material/difficulty/syncopation.ts';

/** What a guesser may look at in one written rhythm, without hearing anything. */
export const FEATURES = [
  'likeness of halves', 'shared first part', 'shared last part', 'syncopation', 'different gaps', 'off the beat',
  'last onset', 'last length', 'longest gap', 'metric weight', 'notes in bar 1', 'difficulty',
] as const; // prettier-ignore

function featuresOf(phrase: Phrase, test: PracticeTest): number[] {
  const onsets = phrase.notes.map((n) => n.startTicks as number);
  const half = (barTicks(phrase.metre) * phrase.bars) / 2;
  const one = onsets.filter((t) => t < half);
  const two = onsets.filter((t) => t >= half).map((t) => t - half);
  const alike = one.filter((t) => two.includes(t)).length / Math.max(one.length, two.length);
  const part = (list: number[], from: number, to: number) => list.filter((t) => t >= from && t < to).join();
  const gaps = onsets.slice(1).map((t, i) => t - onsets[i]!);
  const weights = metricWeights(phrase.metre);
  const weight = onsets.reduce((sum, t) => sum + (weights[Math.round(t / 120) % weights.length] ?? -5), 0);
  const synco = syncopations(onsets, phrase.metre, phrase.bars).reduce((sum, x) => sum + x + 1, 0);
  const last = phrase.notes.at(-1)!;
  return [
    alike,
    Number(part(one, 0, half / 2) === part(two, 0, half / 2)),
    Number(part(one, half / 2, half) === part(two, half / 2, half)),
    synco,
    new Set(gaps).size,
    onsets.filter((t) => t % 480 !== 0).length,
    last.startTicks / 480,
    last.durationTicks / 480,
    Math.max(...gaps) / 480,
    weight,
    one.length,
    difficulty(phrase, test.key, test.tempoBpm),
  ];
}

/** Features of A less those of B, and whether A was played. */
function sample(level: number, seed: number): { x: number[]; y: number } {
  const test = makeTest({ kind: 'rhythm', level, seed, instrument: 'guitar' });
  const { other, answer } = test.question!;
  const [a, b] = answer === 'A' ? [test.phrase, other] : [other, test.phrase];
  const [fa, fb] = [featuresOf(a, test), featuresOf(b, test)];
  return { x: fa.map((f, i) => f - fb[i]!), y: answer === 'A' ? 1 : 0 };
}

/** Logistic regression by gradient descent over standardised features; ridge 0.001. */
function fit(data: readonly { x: number[]; y: number }[]): (x: readonly number[]) => number {
  const n = data[0]!.x.length;
  const scale = Array.from(
    { length: n },
    (_, k) => Math.sqrt(data.reduce((s, d) => s + d.x[k]! ** 2, 0) / data.length) || 1,
  );
  const w = new Array<number>(n).fill(0);
  const score = (x: readonly number[]) => x.reduce((s, v, k) => s + (w[k]! * v) / scale[k]!, 0);
  for (let round = 0; round < 300; round++) {
    const slope = new Array<number>(n).fill(0);
    for (const { x, y } of data) {
      const off = y - 1 / (1 + Math.exp(-score(x)));
      for (let k = 0; k < n; k++) slope[k]! += (off * x[k]!) / scale[k]!;
    }
    for (let k = 0; k < n; k++) w[k]! += 1.0 * (slope[k]! / data.length - 0.001 * w[k]!);
  }
  return score;
}

/** A guesser by memory: nearest of the training pairs by all features (1-nearest neighbour), on a part of the data. */
function nearest(train: readonly { x: number[]; y: number }[], x: readonly number[]): number {
  let best = 0;
  let least = Infinity;
  for (const d of train) {
    let off = 0;
    for (let k = 0; k < x.length; k++) off += (d.x[k]! - x[k]!) ** 2;
    if (off < least) [least, best] = [off, d.y];
  }
  return best;
}

/**
 * How often guessers that never hear the rhythm are right, by level; the best of them at each level, %.
 * @param pairs trained on, and tried on as many fresh ones.
 */
export function guess(pairs: number, from: number): readonly number[] {
  const best: number[] = [];
  console.log(
    `\n"which did you play?" guessed from the page, % right (${pairs} pairs a level to learn from, as many fresh ones; 95 % of fair coins within ±${((196 * 0.5) / Math.sqrt(pairs)).toFixed(1)}); features: ${FEATURES.join(', ')}`,
  );
  console.log('level  more alike halves  logistic regression  nearest pair known');
  for (let level = 1; level <= 10; level++) {
    // Golden-ratio steps: seeds all over the 32 bits.
    const seed = (i: number) => (from + Math.imul(i, 0x9e3779b1)) >>> 0;
    const data = Array.from({ length: 2 * pairs }, (_, i) => sample(level, seed(i)));
    const [train, fresh] = [data.slice(0, pairs), data.slice(pairs)];
    const share = (says: (x: readonly number[]) => boolean, list = fresh) => {
      let right = 0;
      for (const { x, y } of list) if (Number(says(x)) === y) right++;
      return (100 * right) / list.length;
    };
    const score = fit(train);
    const tied = fresh.filter(({ x }) => x[0] !== 0);
    const said = [
      share((x) => x[0]! > 0, tied),
      share((x) => score(x) > 0),
      share((x) => nearest(train, x) === 1),
    ];
    best.push(Math.max(...said));
    console.log(
      [String(level).padStart(4), ...said.map((s, i) => s.toFixed(1).padStart(i ? 18 : 14))].join(' '),
    );
  }
  return best;
}
