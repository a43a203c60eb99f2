import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { markTake, type MarkRequest, type TargetNote } from '../../../src/tests-engine/index.ts';
import { plainDurations, plainOnsets, plainPitches } from './plain.ts';
import { bootstrap, isotonic, mae, mean, spearman } from './stats.ts';

/** Rounds of the bootstrap: the 95 % limits are then good to about 0.003. */
const ROUNDS = 2000;
/** "Between clearly wrong and perfect", as the data's own description has it. */
const MIDDLE = [1.6, 3.6] as const;

export interface Take {
  readonly pattern: string;
  readonly request: MarkRequest;
  readonly grades: readonly number[];
}
interface Set {
  readonly name: 'rhythm' | 'melody';
  readonly file: string;
  /** Which person gave each grading, and how each is called. */
  readonly people: readonly number[];
  readonly labels: readonly string[];
}
export const SETS: readonly Set[] = [
  { name: 'rhythm', file: 'rhythm-takes.jsonl', people: [0, 1, 2], labels: ['1', '2', '3'] },
  {
    name: 'melody',
    file: 'melody-takes.jsonl',
    people: [0, 1, 2, 0, 2],
    labels: ['A', 'B', 'C', 'A again', 'C again'],
  },
];

type Raw = {
  pattern?: string;
  melody?: string;
  target: (number | TargetNote)[];
  played: (number | TargetNote)[];
  grades: number[];
};

export function load(folder: string, set: Set): Take[] | null {
  const path = join(folder, set.file);
  if (!existsSync(path)) return null;
  const notes = (list: (number | TargetNote)[]): TargetNote[] =>
    list.map((x) => (typeof x === 'number' ? { onsetSec: x } : x));
  return readFileSync(path, 'utf8')
    .trim()
    .split('\n')
    .map((line) => {
      const raw = JSON.parse(line) as Raw;
      return {
        pattern: raw.pattern ?? raw.melody!,
        request: {
          target: notes(raw.target),
          played: notes(raw.played),
          clock: 'free',
          transposition: 'any',
        },
        grades: raw.grades,
      };
    });
}

const f = (x: number, digits = 3): string => x.toFixed(digits);
const span = ([a, b]: readonly [number, number]): string => `${f(a, 2)} … ${f(b, 2)}`;

/** Predicted grade of each take, by a rising map fitted on all other patterns. */
export function leftOut(
  takes: readonly Take[],
  score: readonly number[],
  grade: readonly number[],
): number[] {
  return takes.map((take, k) => {
    const others = takes.map((_, o) => o).filter((o) => takes[o]!.pattern !== take.pattern);
    return isotonic(
      others.map((o) => score[o]!),
      others.map((o) => grade[o]!),
    )(score[k]!);
  });
}

export function agreement(takes: readonly Take[], set: Set): void {
  const marks = takes.map((t) => markTake(t.request).mark ?? 0);
  const plains =
    set.name === 'melody'
      ? ([['plain alignment of pitches', plainPitches]] as const)
      : ([
          ['plain alignment of onsets', plainOnsets],
          ['plain alignment of durations', plainDurations],
        ] as const);
  const scores = plains.map(([label, score]) => [label, takes.map((t) => score(t.request))] as const);
  const panel = takes.map((t) => mean(t.grades));
  const names = [...new Set(takes.map((t) => t.pattern))];
  const groups = names.map((name) => takes.map((_, k) => k).filter((k) => takes[k]!.pattern === name));
  const pick = (x: readonly number[], at: readonly number[]): number[] => at.map((k) => x[k]!);
  const rho = (x: readonly number[], y: readonly number[], at: readonly number[]): number =>
    spearman(pick(x, at), pick(y, at));
  const all = takes.map((_, k) => k);

  console.log(`\n## ${set.name}: ${takes.length} takes of ${names.length} patterns\n`);
  console.log('| against the mean of all gradings | Spearman | 95 % by pattern |\n|---|---|---|');
  for (const [label, x] of [['mark', marks], ...scores] as const)
    console.log(
      `| ${label} | ${f(rho(x, panel, all))} | ${span(bootstrap(groups, ROUNDS, (at) => rho(x, panel, at)))} |`,
    );
  for (const [label, plain] of scores) {
    const gain = bootstrap(groups, ROUNDS, (at) => rho(marks, panel, at) - rho(plain, panel, at));
    console.log(
      `| mark less ${label}, paired | ${f(rho(marks, panel, all) - rho(plain, panel, all))} | ${span(gain)} |`,
    );
  }
  const jackknife = names.map((name) =>
    rho(
      marks,
      panel,
      all.filter((k) => takes[k]!.pattern !== name),
    ),
  );
  console.log(
    `\nOne pattern left out: Spearman ${f(Math.min(...jackknife))} … ${f(Math.max(...jackknife))}.`,
  );
  const middle = all.filter((k) => panel[k]! >= MIDDLE[0] && panel[k]! <= MIDDLE[1]);
  console.log(
    `Middle grades alone (panel ${MIDDLE.join(' … ')}, ${middle.length} takes): mark ${f(rho(marks, panel, middle))}` +
      scores.map(([label, plain]) => `, ${label} ${f(rho(plain, panel, middle))}`).join('') +
      '.\n',
  );

  console.log('Like with like: mark and examiner against the mean of the other people.\n');
  console.log('| examiner | examiner | mark | mark less examiner, 95 % | middle: examiner | middle: mark |');
  console.log('|---|---|---|---|---|---|');
  const rows: number[][] = [];
  for (let g = 0; g < set.people.length; g++) {
    const own = takes.map((t) => t.grades[g]!);
    const rest = takes.map((t) => mean(t.grades.filter((_, o) => set.people[o] !== set.people[g])));
    const mid = all.filter((k) => rest[k]! >= MIDDLE[0] && rest[k]! <= MIDDLE[1]);
    const row = [rho(own, rest, all), rho(marks, rest, all), rho(own, rest, mid), rho(marks, rest, mid)];
    rows.push(row);
    const diff = bootstrap(groups, ROUNDS, (at) => rho(marks, rest, at) - rho(own, rest, at));
    console.log(
      `| ${set.labels[g]} | ${f(row[0]!)} | ${f(row[1]!)} | ${span(diff)} | ${f(row[2]!, 2)} | ${f(row[3]!, 2)} |`,
    );
  }
  const avg = [0, 1, 2, 3].map((c) => mean(rows.map((r) => r[c]!)));
  console.log(`| mean | ${f(avg[0]!)} | ${f(avg[1]!)} | | ${f(avg[2]!, 2)} | ${f(avg[3]!, 2)} |\n`);

  console.log(
    'Mean absolute error in grades; a rising map from mark to grade, fitted without the pattern judged.\n',
  );
  console.log('| | against all gradings | middle grades alone |\n|---|---|---|');
  const both = (x: readonly number[]): string =>
    `${f(mae(x, panel), 2)} | ${f(mae(pick(x, middle), pick(panel, middle)), 2)}`;
  const constant = takes.map((t) => mean(panel.filter((_, o) => takes[o]!.pattern !== t.pattern)));
  console.log(`| mark | ${both(leftOut(takes, marks, panel))} |`);
  for (const [label, plain] of scores) console.log(`| ${label} | ${both(leftOut(takes, plain, panel))} |`);
  console.log(`| constant | ${both(constant)} |`);
  for (let g = 0; g < set.people.length; g++) {
    const own = takes.map((t) => t.grades[g]!);
    const others = takes.map((t) => mean(t.grades.filter((_, o) => o !== g)));
    const mid = all.filter((k) => others[k]! >= MIDDLE[0] && others[k]! <= MIDDLE[1]);
    console.log(
      `| examiner ${set.labels[g]}, against the others | ${f(mae(own, others), 2)} | ${f(mae(pick(own, mid), pick(others, mid)), 2)} |`,
    );
  }
  console.log('\nMark by panel grade (10, 50, 90 %):');
  for (const [a, b] of [
    [1, 1.5],
    [1.5, 2.5],
    [2.5, 3.5],
    [3.5, 4.01],
  ] as const) {
    const sorted = all
      .filter((k) => panel[k]! >= a && panel[k]! < b)
      .map((k) => marks[k]!)
      .sort((x, y) => x - y);
    const q = (p: number): number => sorted[Math.min(sorted.length - 1, Math.floor(p * sorted.length))]!;
    if (sorted.length)
      console.log(`  ${a} … ${b === 4.01 ? 4 : b}: ${q(0.1)}, ${q(0.5)}, ${q(0.9)} (${sorted.length} takes)`);
  }
}
