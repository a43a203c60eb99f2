import FFT from 'fft.js';
import type { PracticeTest } from '../../src/score.ts';
import {
  chooseNext,
  estimate,
  makeTest,
  partsOfNotes,
  practised,
  weakest,
} from '../../src/tests-engine/index.ts';
import type { PartId, Practised } from '../../src/tests-engine/index.ts';
import { learner, source } from '../tests-engine/progress/learner.ts';

/**
 * Simulated students (see learner.ts for how they are made): is the true weakest part named, and does
 * adaptive practice lift them faster than random choice? `npm run bench:practice -- [naming runs] [learning runs]`.
 * Seeds start at 100,000; the model and the choice were developed on seeds 1,000–1,149.
 */
const [namingRuns = 60, learningRuns = 12] = process.argv.slice(2).map(Number);
const TESTS = 60;
const DAY = 86_400_000;
const pool = new Map<string, PracticeTest>();
/** 300 tests a kind and level: more than sixty tests can use up, and made once. */
function make(request: { kind: 'melody' | 'rhythm'; level: number; seed: number }): PracticeTest {
  const seed = request.seed % 300;
  const key = `${request.kind} ${request.level} ${seed}`;
  const made = pool.get(key) ?? makeTest({ ...request, seed, instrument: 'guitar' });
  pool.set(key, made);
  return made;
}
const kinds = ['melody', 'rhythm'] as const;

function smallParts(): PartId[] {
  const counts = new Map<PartId, number>();
  let notes = 0;
  for (let seed = 0; seed < 300; seed++)
    for (const kind of kinds)
      for (const { pitch, time } of partsOfNotes(make({ kind, level: 5, seed }))) {
        notes += 1;
        for (const part of [...pitch, ...time]) counts.set(part, (counts.get(part) ?? 0) + 1);
      }
  return [...counts].filter(([, n]) => n / notes > 0.03 && n / notes < 0.2).map(([part]) => part);
}
const parts = smallParts();

type Choose = (
  record: readonly Practised[],
  kind: 'melody' | 'rhythm',
  uniform: () => number,
) => PracticeTest;
const random =
  (lowest: number, highest: number): Choose =>
  (_, kind, uniform) =>
    make({
      kind,
      level: lowest + Math.floor((highest - lowest + 1) * uniform()),
      seed: Math.floor(uniform() * 2 ** 32),
    });
const adaptive: Choose = (record, kind) =>
  chooseNext({ record, manner: 'strict', kind, level: 5, there: 85, make }).test;

function practise(
  seed: number,
  choose: Choose,
  options: { rate: number; notYet: number },
  look: (n: number) => void,
  mind = learner({ seed, mayBeWeak: parts, ...options }),
) {
  const { uniform } = source(seed + 1);
  const record: Practised[] = [];
  let there = 0;
  for (let n = 0; n < TESTS; n++) {
    const day = Math.floor(n / 3);
    if (n % 3 === 0) mind.newDay(n === 0 ? 0 : day % 6 === 0 ? 2 : 1);
    if (n % 10 === 0) look(n);
    const test = choose(record, kinds[n % 2]!, uniform);
    const mark = mind.play(test);
    if (mark.outcome === 'there') there += 1;
    record.push(practised({ id: String(n), atMs: day * DAY, order: n, test, manner: 'strict', mark }));
  }
  look(TESTS);
  return { record, mind, there: there / TESTS };
}

const transform = new FFT(2048);
const [input, output] = [transform.createComplexArray(), transform.createComplexArray()];
const started = performance.now();
for (let i = 0; i < 2000; i++) transform.transform(output, input);
console.log(`FFT 2048, complex radix-2: ${((performance.now() - started) / 2000).toFixed(4)} ms`);

console.log(`\nNaming: ${namingRuns} students, ${TESTS} tests each at levels 4–6 at random`);
let first = 0;
let three = 0;
const seen: number[] = [];
for (let run = 0; run < namingRuns; run++) {
  const { record, mind } = practise(100_000 + run, random(4, 6), { rate: 0.03, notYet: 1.5 }, () => {});
  const truth = [...parts].sort((a, b) => mind.strength(a) - mind.strength(b))[0];
  const named = weakest(estimate(record, 'strict')).map(({ part }) => part);
  seen.push(named.length);
  if (named[0] === truth) first += 1;
  if (named.slice(0, 3).includes(truth!)) three += 1;
}
const share = (n: number) => `${((100 * n) / namingRuns).toFixed(0)} %`;
const meanSeen = seen.reduce((sum, n) => sum + n, 0) / seen.length;
console.log(
  `  true weakest of ${parts.length} small parts within the first three: ${share(three)}, first: ${share(first)}`,
);
console.log(
  `  chance: ${(300 / meanSeen).toFixed(0)} % of the ${meanSeen.toFixed(0)} parts met, ${(300 / parts.length).toFixed(0)} % of the small ones`,
);

console.log(`\nLearning: ${learningRuns} students; mean true chance of a note over 60 tests of levels 3–7`);
const battery = [3, 4, 5, 6, 7].flatMap((level) =>
  kinds.flatMap((kind) => [0, 1, 2, 3, 4, 5].map((i) => make({ kind, level, seed: 250 + i }))),
);
for (const [name, choose] of [
  ['adaptive', adaptive],
  ['random, level 5', random(5, 5)],
  ['random, levels 4–6', random(4, 6)],
  ['random, levels 1–10', random(1, 10)],
] as const) {
  const curve = Array<number>(TESTS / 10 + 1).fill(0);
  let [there, weak] = [0, 0];
  for (let run = 0; run < learningRuns; run++) {
    const seed = 200_000 + run;
    const mind = learner({ seed, mayBeWeak: parts, rate: 0.1, notYet: 3 });
    const done = practise(
      seed,
      choose,
      { rate: 0.1, notYet: 3 },
      (n) => {
        curve[n / 10]! +=
          battery.reduce((sum, test) => sum + mind.ability(test), 0) / battery.length / learningRuns;
      },
      mind,
    );
    there += done.there / learningRuns;
    weak += mind.strength(mind.planted) / learningRuns;
  }
  console.log(
    `  ${name.padEnd(20)} ${curve.map((p) => p.toFixed(3)).join(' ')}  there ${(100 * there).toFixed(0)} %  planted part ${weak.toFixed(2)} logits (from −0.50)`,
  );
}
