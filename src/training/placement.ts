import { median } from '../music/numbers.ts';
import { appendFileSync, readFileSync, rmSync } from 'node:fs';
import { resolve } from 'node:path';
import { analyseOver } from '../dsp/bleed/overAnalysis.ts';
import { acceptOver } from '../dsp/bleed/hearLeft.ts';
import {
  LOOKS_MS,
  PLACEMENT_FEATURES,
  PLACEMENT_SPAN_SEC,
  placementFeatures,
} from '../dsp/bleed/placement.ts';
import { createTrees } from '../dsp/decision/trees.ts';
import { nameNotes } from '../dsp/hear/name.ts';
import { ms, WORK_RATE } from '../dsp/signal/prepared.ts';
import { matchNotes } from '../../tests/support/fixtures/note-metrics.ts';
import { orderCancelled } from '../../tests/bench/bleed/cancelled.ts';
import { CONDITIONS } from '../../tests/bench/bleed/conditions.ts';
import { boost, type BoostOptions, type Example } from './boost.ts';
import { writeData } from './data.ts';

/**
 * Where a note's attack lies over a backing: `npm run fit -- placement`. Collects the notes that were heard in
 * .cache/placement.jsonl, prints tables by scenes and by instruments kept apart, then writes
 * src/dsp/bleed/placementWeights.json. Scenes are those of `npm run bench:bleed`, kept in .cache/bleed.
 */
interface Lesson {
  readonly scene: string;
  readonly number: number;
  readonly bank: string;
  /** Numbers the notes of a take. */
  readonly note: number;
  /** From how much later than it was found the note is looked at, ms: one of LOOKS_MS. */
  readonly look: number;
  /** That place minus the true one, s. */
  readonly off: number;
  readonly features: readonly number[];
}
const FOLDS = 5;
const SAMPLE_RATE = 24_000;
const OPTIONS: BoostOptions = { trees: 120, depth: 3, rate: 0.07, ridge: 3, leastCurvature: 5, share: 0.5 };

async function collect(path: string, from: number, to: number, names: readonly string[]): Promise<void> {
  const conditions = CONDITIONS.filter(({ name }) => names.some((begin) => name.startsWith(begin)));
  for (let number = from; number < to; number++)
    for (const { name, is } of conditions) {
      const order = { number, condition: name, is, sampleRate: SAMPLE_RATE };
      const { cancelled, startSec, truth, bank } = await orderCancelled(order);
      if (!cancelled) continue;
      const { possible, clear, masked } = analyseOver(cancelled);
      const notes = nameNotes(masked, acceptOver(possible).accepted);
      const heard = notes.map((n) => ({ onsetSec: n.at / WORK_RATE, midi: n.midi }));
      const meant = truth.map(({ onsetSec, midi }) => ({ onsetSec: onsetSec - startSec, midi }));
      const lessons = matchNotes(meant, heard, PLACEMENT_SPAN_SEC / 2, Infinity).flatMap((h, t): Lesson[] => {
        const [note, as, due] = [notes[h], heard[h], meant[t]];
        if (!note || !as || !due) return [];
        return LOOKS_MS.map((look) => ({
          scene: `${number} ${name}`,
          number,
          bank,
          note: t,
          look,
          off: as.onsetSec + look / 1000 - due.onsetSec,
          features: [...placementFeatures(clear, note.at + ms(look), note.midi)],
        }));
      });
      if (lessons.length > 0) appendFileSync(path, lessons.map((l) => `${JSON.stringify(l)}\n`).join(''));
    }
}

/** Deviations of notes (the mean of their looks) from their take's median and from the truth, ms. */
function tell(name: string, lessons: readonly Lesson[], off: readonly number[]): void {
  const takes = new Map<string, Map<number, number>>();
  lessons.forEach(({ scene, note }, i) => {
    const notes = takes.get(scene) ?? new Map<number, number>();
    takes.set(scene, notes.set(note, (notes.get(note) ?? 0) + (1000 * off[i]!) / LOOKS_MS.length));
  });
  const byTake = [...takes.values()].map((notes) => [...notes.values()]);
  const plain = byTake.flat().map(Math.abs);
  const apart = byTake.flatMap((all) => all.map((one) => Math.abs(one - median(all))));
  const at = (values: readonly number[], q: number): string =>
    [...values]
      .sort((a, b) => a - b)
      [Math.floor(q * values.length)]!.toFixed(1)
      .padStart(5);
  console.log(
    `${name.padEnd(28)} from the take’s median ${at(apart, 0.5)} ${at(apart, 0.95)}   from the truth ${at(plain, 0.5)} ${at(plain, 0.95)}   (50 %, 95 %, ms; ${plain.length} notes)`,
  );
}

const shareOf = (lesson: Lesson): number => 0.5 - lesson.off / PLACEMENT_SPAN_SEC;
/** What lies further away than can be answered teaches nothing. */
const examples = (lessons: readonly Lesson[]): Example[] =>
  lessons
    .map((lesson) => ({ features: lesson.features, label: shareOf(lesson), weight: 1 }))
    .filter(({ label }) => label > 0.01 && label < 0.99);

/** What is left after trees that never saw a lesson's group. */
function without(lessons: readonly Lesson[], group: (of: Lesson) => string): number[] {
  const left = new Array<number>(lessons.length);
  for (const held of new Set(lessons.map(group))) {
    const seen = lessons.filter((l) => group(l) !== held);
    const place = createTrees(boost(PLACEMENT_FEATURES, examples(seen), OPTIONS), PLACEMENT_FEATURES);
    lessons.forEach((l, i) => {
      if (group(l) === held) left[i] = l.off + (place(l.features) - 0.5) * PLACEMENT_SPAN_SEC;
    });
  }
  return left;
}

function fit(path: string): void {
  const lessons = readFileSync(path, 'utf8')
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line) as Lesson);
  tell(
    'as found',
    lessons,
    lessons.map((l) => l.off),
  );
  // Tens, so that every fold holds every kind of test.
  tell(
    'placed, scenes apart',
    lessons,
    without(lessons, (l) => `${Math.floor(l.number / 10) % FOLDS}`),
  );
  tell(
    'placed, instruments apart',
    lessons,
    without(lessons, (l) => l.bank),
  );
  const data = boost(PLACEMENT_FEATURES, examples(lessons), OPTIONS);
  writeData(
    'bleed/placementWeights.json',
    `Fitted by \`npm run fit -- placement\` on ${lessons.length / LOOKS_MS.length} notes of ${new Set(lessons.map((l) => l.scene)).size} takes.`,
    data,
  );
}

/** The scenes of the fit: numbers from … to, and how their conditions begin. */
const SCENES = [
  [3000, 3050, ['0 dB, RT60 0.4', '+6 dB, moved', '-10']],
  [1010, 1056, ['0 dB, RT60 0.4']],
] as const;
const LESSONS = resolve(import.meta.dirname, '../../.cache/placement.jsonl');

rmSync(LESSONS, { force: true });
for (const [from, to, conditions] of SCENES) await collect(LESSONS, from, to, conditions);
fit(LESSONS);
