import { appendFileSync, existsSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { analyseOver, leftoverDb } from '../dsp/bleed/overAnalysis.ts';
import { OVER_FEATURES } from '../dsp/bleed/overFeatures.ts';
import { createTrees } from '../dsp/decision/trees.ts';
import { WORK_RATE } from '../dsp/signal/prepared.ts';
import { orderCancelled } from '../../tests/bench/bleed/cancelled.ts';
import { CONDITIONS } from '../../tests/bench/bleed/conditions.ts';
import { boost, type BoostOptions, type Example } from './boost.ts';
import { writeData } from './data.ts';
import { labels } from './label.ts';

/**
 * "Was that a pluck?" over a backing: `npm run fit -- over`. Every scene's candidates are kept in .cache/over.jsonl, so
 * that a run that was broken off goes on; remove the file after a change of features. Then a five-fold table, and
 * src/dsp/bleed/overWeights.json. Scenes and cancelled takes are kept in .cache/bleed.
 */
interface Lesson {
  readonly number: number;
  readonly condition: string;
  readonly truth: number;
  readonly leftoverDb: number;
  readonly examples: readonly Example[];
  readonly at: readonly number[];
}
const FOLDS = 5;
const A_NUMBER = 3;
/** 24 kHz is what the chain works at; a scene costs half of one at 44.1 kHz. */
const SAMPLE_RATE = 24_000;
/** Smaller than the plain decision’s: there are fewer examples. Of nine settings the one of least five-fold deviance. */
const OPTIONS: BoostOptions = { trees: 250, depth: 3, rate: 0.05, ridge: 3, leastCurvature: 2, share: 0.7 };
/** Plucks this near to one another are one (see accept). */
const GAP_SEC = 0.05;

const bleeding = CONDITIONS.filter(({ is }) => is.bleedDb !== null);
/** The conditions of a scene number: over thirty numbers every condition meets every kind of test. */
const conditionsOf = (number: number, count: number): typeof bleeding =>
  Array.from(
    { length: count },
    (_, k) => bleeding[(A_NUMBER * number + k + Math.floor(number / 10)) % bleeding.length]!,
  );

function readLessons(path: string): Lesson[] {
  if (!existsSync(path)) return [];
  const lines = readFileSync(path, 'utf8').trim().split('\n');
  return lines.map((line) => JSON.parse(line) as Lesson);
}

async function collect(path: string, from: number, to: number, count: number): Promise<void> {
  const done = new Set(readLessons(path).map((l) => `${l.number} ${l.condition}`));
  for (let number = from; number < to; number++)
    for (const condition of conditionsOf(number, count)) {
      if (done.has(`${number} ${condition.name}`)) continue;
      const order = { number, condition: condition.name, is: condition.is, sampleRate: SAMPLE_RATE };
      const { cancelled, startSec, truth, bank } = await orderCancelled(order);
      if (!cancelled) continue;
      const analysed = analyseOver(cancelled);
      const { possible } = analysed;
      const at = possible.map((p) => p.attack.at / WORK_RATE + startSec);
      const found = labels(
        at,
        truth.map((t) => t.onsetSec),
      );
      const kept = possible.flatMap((p, i) => {
        const label = found[i]!;
        return label === null ? [] : [{ at: at[i]!, features: [...p.features], label, weight: 1 }];
      });
      const lesson = {
        number,
        condition: condition.name,
        bank,
        truth: truth.length,
        leftoverDb: leftoverDb(analysed),
        at: kept.map((k) => k.at),
        examples: kept.map(({ features, label, weight }) => ({ features, label, weight })),
      };
      appendFileSync(path, `${JSON.stringify(lesson)}\n`);
    }
}

interface Cell {
  truth: number;
  heard: number;
  hits: number;
  reachable: number;
}

/** Onset F1 by condition, each scene decided by a fit that never saw its number. */
function crossValidate(lessons: readonly Lesson[], thresholds: readonly number[]): void {
  const columns = thresholds.map((threshold) => ({ threshold, table: new Map<string, Cell>() }));
  for (let fold = 0; fold < FOLDS; fold++) {
    const seen = lessons.filter((l) => l.number % FOLDS !== fold).flatMap((l) => l.examples);
    const decide = createTrees(boost(OVER_FEATURES, seen, OPTIONS), OVER_FEATURES);
    for (const lesson of lessons.filter((l) => l.number % FOLDS === fold)) {
      const ranked = lesson.examples
        .map((e, i) => ({ at: lesson.at[i]!, label: e.label, p: decide(e.features) }))
        .sort((a, b) => b.p - a.p);
      for (const { threshold, table } of columns)
        for (const name of [lesson.condition, 'all']) {
          const cell = table.get(name) ?? { truth: 0, heard: 0, hits: 0, reachable: 0 };
          const kept: number[] = [];
          for (const { at, label, p } of ranked) {
            if (p < threshold || kept.some((k) => Math.abs(k - at) < GAP_SEC)) continue;
            kept.push(at);
            cell.hits += label;
          }
          cell.truth += lesson.truth;
          cell.heard += kept.length;
          cell.reachable += lesson.examples.reduce((s, e) => s + e.label, 0);
          table.set(name, cell);
        }
    }
  }
  const names = [...(columns[0]?.table.keys() ?? [])].sort();
  console.log(`${'onset F1 at'.padEnd(24)} ${thresholds.map((t) => t.toFixed(2)).join('   ')}   candidates`);
  for (const name of names) {
    const cells = columns.map(({ table }) => table.get(name)!);
    const f1 = cells.map(({ truth, heard, hits }) => ((2 * hits) / Math.max(1, truth + heard)).toFixed(3));
    const { truth, reachable, heard } = cells[0]!;
    console.log(
      `${name.padEnd(24)} ${f1.join('  ')}   ${reachable} of ${truth}${truth ? '' : `, ${heard} false`}`,
    );
  }
}

/** @param path the lessons */
function fit(path: string): void {
  const lessons = readLessons(path);
  crossValidate(lessons, [0.2, 0.3, 0.4, 0.5]);
  const examples = lessons.flatMap((l) => l.examples);
  const plucks = examples.filter((e) => e.label === 1).length;
  const data = boost(OVER_FEATURES, examples, OPTIONS);
  writeData(
    'bleed/overWeights.json',
    `Fitted by \`npm run fit -- over\` on ${lessons.length} scenes: ${plucks} plucks and ${examples.length - plucks} other candidates.`,
    data,
  );
}

/** The scenes of the fit: numbers from … to, and conditions a number. */
const SCENES = [
  [0, 25, A_NUMBER],
  [1000, 1002, 10],
  [1003, 1006, 10],
] as const;
const LESSONS = resolve(import.meta.dirname, '../../.cache/over.jsonl');

for (const [from, to, count] of SCENES) await collect(LESSONS, from, to, count);
fit(LESSONS);
