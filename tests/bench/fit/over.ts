import { appendFileSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { format } from 'prettier';
import { loadBanks } from '../../../audio-fixtures/index.ts';
import { makeScene } from '../../../audio-fixtures/bleed/scene.ts';
import { cancelBacking } from '../../../src/dsp/bleed/cancel.ts';
import { analyseOver } from '../../../src/dsp/bleed/overAnalysis.ts';
import { OVER_FEATURES } from '../../../src/dsp/bleed/overFeatures.ts';
import { createDecision } from '../../../src/dsp/decision/model.ts';
import { WORK_RATE } from '../../../src/dsp/signal/prepared.ts';
import { CONDITIONS } from '../bleed/conditions.ts';
import { soundTest } from '../bleed/sent.ts';
import { labels } from './label.ts';
import { fitLogistic, type Example } from './newton.ts';
import { RIDGES } from './ridges.ts';

/**
 * "Was that a pluck?" over a backing, in two steps that can be resumed:
 *   npx tsx tests/bench/fit/over.ts collect FILE FROM TO   one JSON line a scene
 *   npx tsx tests/bench/fit/over.ts fit FILE               five-fold table, then src/dsp/bleed/overWeights.ts
 */
interface Lesson {
  readonly scene: number;
  readonly condition: string;
  readonly truth: number;
  readonly examples: readonly Example[];
}
const LEAD_SEC = 0.15;
const FOLDS = 5;
const OUT = resolve(import.meta.dirname, '../../../src/dsp/bleed/overWeights.ts');

function readLessons(path: string): Lesson[] {
  if (!existsSync(path)) return [];
  return readFileSync(path, 'utf8')
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line) as Lesson);
}

async function collect(path: string, from: number, to: number): Promise<void> {
  const done = new Set(readLessons(path).map((lesson) => lesson.scene));
  const banks = (await loadBanks()).all.filter(
    (b) => b.instrument === 'guitar' && !/muted|distorted/.test(b.name),
  );
  for (let scene = from; scene < to; scene++) {
    if (done.has(scene)) continue;
    const condition = CONDITIONS[scene % CONDITIONS.length];
    const bank = banks[(scene * 7) % banks.length];
    const sent = await soundTest(50_000 + scene);
    const made = makeScene(sent, bank, 90_000 + scene, condition.is);
    const start = made.fromSec - LEAD_SEC;
    const cancelled = cancelBacking(made.recording, made.reference, made.sampleRate, start);
    if (!cancelled) continue;
    const { possible, leftoverDb } = analyseOver(cancelled);
    const found = labels(
      possible.map((p) => p.attack.at / WORK_RATE + start),
      made.truth.map((t) => t.onsetSec),
    );
    const examples = possible.flatMap((p, i) =>
      found[i] === null ? [] : [{ features: [...p.features], label: found[i], weight: 1 }],
    );
    const lesson = {
      scene,
      condition: condition.name,
      bank: bank.name,
      truth: made.truth.length,
      leftoverDb,
    };
    appendFileSync(path, `${JSON.stringify({ ...lesson, examples })}\n`);
  }
}

/** Onset F1 by condition, each scene decided by a fit that never saw it. */
function crossValidate(lessons: readonly Lesson[], threshold: number): void {
  const cells = new Map<string, { truth: number; heard: number; hits: number }>();
  for (let fold = 0; fold < FOLDS; fold++) {
    const seen = lessons.filter((_, i) => i % FOLDS !== fold).flatMap((l) => l.examples);
    const decide = createDecision(fitLogistic(OVER_FEATURES, seen, RIDGES));
    for (const lesson of lessons.filter((_, i) => i % FOLDS === fold)) {
      const cell = cells.get(lesson.condition) ?? { truth: 0, heard: 0, hits: 0 };
      cell.truth += lesson.truth;
      for (const example of lesson.examples) {
        if (decide(example.features) < threshold) continue;
        cell.heard++;
        cell.hits += example.label;
      }
      cells.set(lesson.condition, cell);
    }
  }
  for (const [name, { truth, heard, hits }] of cells)
    console.log(`${name.padEnd(24)} onset F1 ${((2 * hits) / (truth + heard)).toFixed(3)} of ${truth}`);
}

async function fit(path: string): Promise<void> {
  const lessons = readLessons(path);
  for (const threshold of [0.3, 0.4, 0.5]) {
    console.log(`threshold ${threshold}`);
    crossValidate(lessons, threshold);
  }
  const examples = lessons.flatMap((l) => l.examples);
  const model = fitLogistic(OVER_FEATURES, examples, RIDGES);
  const short = (values: readonly number[]): number[] => values.map((v) => Number(v.toPrecision(4)));
  const plucks = examples.filter((e) => e.label === 1).length;
  const data = {
    ...model,
    bias: short([model.bias])[0],
    means: short(model.means),
    deviations: short(model.deviations),
    weights: short(model.weights),
  };
  const text = `import type { Model } from '../decision/model.ts';

/**
 * Fitted by \`npx tsx tests/bench/fit/over.ts fit\` on ${lessons.length} scenes: ${plucks} plucks and
 * ${examples.length - plucks} other candidates. Not to be edited by hand.
 */
export const OVER_MODEL: Model = ${JSON.stringify(data)};
`;
  writeFileSync(OUT, await format(text, { parser: 'typescript', printWidth: 110, singleQuote: true }));
}

const [, , what, file, from, to] = process.argv;
if (what === 'collect') await collect(resolve(file), Number(from), Number(to));
else if (what === 'fit') await fit(resolve(file));
else throw new RangeError(`over.ts takes "collect FILE FROM TO" or "fit FILE", got ${what}`);
