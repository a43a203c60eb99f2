import type { ChordTest } from '../../src/music/chords/index.ts';
import type { HeardTake } from '../../src/music/notes.ts';
import type { PracticeTest } from '../../src/music/score.ts';
import type { ImprovisingTask, ReadingTask, ScaleTask, Task } from '../../src/music/task.ts';
import { cents, sec } from '../../src/music/units.ts';
import {
  chartOf,
  chordsAtSec,
  handlerOf,
  levelList,
  LEVELS,
  makeChords,
  makeImprovising,
  makeReading,
  makeScale,
  makeTest,
  markTask,
  shapesOfKind,
} from '../../src/tests-engine/index.ts';
import type { Attempt } from '../../src/store/index.ts';
import { ID, sampleBackup, type Json } from '../store/support/backup.ts';
import { sampleAttempt } from '../store/support/sample.ts';
import { makeRandom } from '../../src/tests-engine/material/random/random.ts';
import { played, quaverLine } from '../tests-engine/facts/lines.ts';

/** Sound things of every kind, for the fuzz to change. */
const times = <T>(n: number, make: (i: number) => T): T[] => Array.from({ length: n }, (_, i) => make(i));

export const EAR_TESTS: readonly PracticeTest[] = times(40, (seed) =>
  makeTest({
    kind: seed % 3 === 0 ? 'rhythm' : 'melody',
    level: 1 + (seed % 10),
    seed,
    instrument: seed % 4 === 3 ? 'bass' : 'guitar',
  }),
);
export const PAGES: readonly ReadingTask[] = times(10, (seed) =>
  makeReading({ level: 1 + seed, seed, instrument: seed % 4 === 3 ? 'bass' : 'guitar' }),
);
export const SCALES: readonly ScaleTask[] = times(10, (seed) => {
  const { entries } = levelList(1 + seed, 'guitar');
  return makeScale({
    named: entries[seed % entries.length]!,
    instrument: 'guitar',
    click: seed % 2 === 0,
    level: 1 + seed,
  });
});
export const CHARTS: readonly ImprovisingTask[] = times(10, (seed) =>
  makeImprovising({
    level: 1 + seed,
    seed,
    instrument: 'guitar',
    plays: seed % 3 === 2 ? 'chords' : 'line',
    prepareClick: seed % 2 === 0,
  }),
);
export const CHORDS: readonly ChordTest[] = times(10, (seed) =>
  makeChords({
    seed,
    families: ['open', 'barre'].slice(0, 1 + (seed % 2)) as ['open'],
    voicing: seed % 3 === 0 ? 'any' : 'shape',
    how: seed % 2 === 0 ? 'named' : 'progression',
    count: 3 + seed,
    ...(seed % 4 === 1 ? { style: 'rock' } : {}),
  }),
);
/** What is no ear test. */
export const OTHERS: readonly Task[] = [...PAGES, ...SCALES, ...CHARTS, ...CHORDS];

const ok = { verdict: 'ok', reason: null } as const;
/** What somebody might have played. */
function takeOf(task: Task): HeardTake {
  if ('chords' in task)
    return {
      ...{ notes: [], tuningCents: cents(0), heard: ok },
      strums: chordsAtSec(task).map((at, asked) => ({
        firstSec: sec(at),
        fullSec: sec(at + 0.02),
        answers: [
          {
            ...{ asked, missing: asked % 3 === 1 ? [4] : [], foreign: asked % 4 === 1 ? [1] : [] },
            verdict: asked % 3 === 1 ? 'no' : asked % 3 === 2 ? 'cannot-tell' : 'yes',
            ...{ doubt: asked % 3 === 2 ? 'too-short' : null, lowerNote: asked % 5 === 1 ? 41 : null },
          },
        ],
      })),
    };
  if ('chart' in task) {
    const chart = chartOf(task);
    const line = quaverLine(chart, makeRandom(task.seed ?? 1));
    return { notes: played(chart, line, { biasMs: 12 }).notes, tuningCents: cents(3), heard: ok };
  }
  const { tempoBpm, phrase } = task;
  return {
    ...{ tuningCents: cents(-4), heard: ok },
    notes: phrase.notes.map((note, i) => ({
      onsetSec: sec((note.startTicks / 480) * (60 / tempoBpm) + (i % 5 === 2 ? 0.07 : 0.004 * (i % 3))),
      offsetSec: sec(((note.startTicks + note.durationTicks) / 480) * (60 / tempoBpm)),
      ...{ midi: (i % 7 === 3 ? note.midi + 1 : note.midi) as typeof note.midi, cents: cents(2) },
      ...{ levelDb: -20 as never, confidence: 0.9 },
    })),
  };
}

/** An attempt at it, marked as the app marks. */
export function attemptAt(task: Task, n: number, homeworkId: string | null = null): Attempt {
  const take = takeOf(task);
  return {
    ...sampleAttempt(ID(1), n, homeworkId),
    ...{ test: task, take, mark: markTask(task, take), answer: null },
    ...{ id: ID(0x1000 + n), atMs: 1e12 + n, order: 1e12 + n },
  };
}

/** Attempts at tasks of every kind, the ear tests' by the learner of the other tests. */
export const ATTEMPTS: readonly Attempt[] = [
  ...times(12, (n) => ({
    ...sampleAttempt(ID(1), n, n % 3 === 0 ? ID(4) : null),
    ...{ id: ID(100 + n), atMs: 1e12 + n, order: 1e12 + n },
  })),
  ...OTHERS.map((task, i) => attemptAt(task, 100 + i)),
];

/** Everything that the app itself keeps under a key of the record, as it keeps it. */
export const KEPT: Readonly<Record<string, Json>> = JSON.parse(
  JSON.stringify({
    student: ID(1),
    thresholds: { there: 80, close: 50 },
    questionCounts: 'always',
    ownPhrases: EAR_TESTS.slice(1, 4).map((value, i) => ({ id: `p${i}`, name: `Phrase ${i}`, value })),
    ownLevels: [{ id: 'l0', name: 'Level', value: LEVELS[2]! }],
    ownChords: [
      {
        id: 'c0',
        name: 'Mine',
        value: { name: 'Mine', chords: shapesOfKind('slash', null) },
      },
    ],
    ownScales: [{ id: 's0', name: 'Mine', value: levelList(3, 'guitar') }],
    standing: {
      programme: {
        from: 'like',
        level: 2,
        kind: 'melody',
        instrument: 'guitar',
        tuning: [40, 45, 50, 55, 59, 64],
      },
      ...{ task: EAR_TESTS[1], manner: 'strict', done: false },
    },
    again: [{ attemptId: ID(100), studentId: ID(1), dueAtMs: 1e12 }],
    homework: [],
    deskOrder: 'lesson',
    soundLimitMb: 200,
    backupOfferedMs: 1e12,
  }),
) as Record<string, Json>;

/** A backup with something of every kind in it: attempts from `n` on, three of them. */
export function variedBackup(n: number): ReturnType<typeof sampleBackup> {
  const sample = sampleBackup(2);
  const { records } = sample.json as unknown as {
    records: { attempts: Json[]; homework: { tests: Json[] }[]; settings: Json[] };
  };
  for (const i of [0, 1]) records.attempts.push(plain(ATTEMPTS[12 + ((n + 10 * i) % OTHERS.length)]!));
  records.homework[0]!.tests.push(plain(OTHERS[n % OTHERS.length]!));
  records.settings = Object.entries(KEPT).map(([key, value]) => ({ key, value }));
  return sample;
}
const plain = (value: unknown): Json => JSON.parse(JSON.stringify(value)) as Json;

/** The sheets a task can be asked for. */
export const sheetsOf = (task: Task) =>
  handlerOf(task)
    .plan(task, { manner: 'relaxed', hearings: null, practiceSec: null, question: 'which' })
    .steps.flatMap((step) => ('sheet' in step && step.sheet ? [step.sheet] : []));
