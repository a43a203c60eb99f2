import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { PracticeTest } from '../../../src/music/score.ts';
import type { Attempt, Records, SavedAudio } from '../../../src/store/index.ts';
import { NO_CARD, NO_WORDS } from '../../../src/store/schema/migrations.ts';
import { makeTest, markTask } from '../../../src/tests-engine/index.ts';
import { packBackup } from '../../store/support/backup.ts';
import { learner, source } from '../../tests-engine/progress/learner.ts';

const DAY_MS = 86_400_000;
const WEAK = ['third-up', 'step-down', 'fourth-up', 'degree-5', 'off-beat', 'after-rest'] as const;

export interface Size {
  readonly students: number;
  /** Of each student. */
  readonly attempts: number;
  /** Saved takes in all. */
  readonly sounds: number;
}

const id = (n: number): string => n.toString(16).padStart(32, '0');
export const studentId = (n: number): string => id(1 + n);

/** Attempts as simulated students of our own invention make them, two a day over the last weeks; `atMs` counts from 0. */
function attemptsOf(student: number, { attempts, students }: Size): Attempt[] {
  const mind = learner({ seed: 500_000 + student, mayBeWeak: WEAK });
  return Array.from({ length: attempts }, (_, n) => {
    if (n % 2 === 0) mind.newDay(1);
    const kind = n % 2 ? 'rhythm' : 'melody';
    const test = makeTest({ kind, level: 2 + (n % 4), seed: student * 10_000 + n, instrument: 'guitar' });
    const take = mind.take(test);
    const atMs = Math.floor(((n + student / students) * DAY_MS) / 2);
    return {
      id: id(1_000_000 + student * 10_000 + n),
      studentId: studentId(student),
      homeworkId: null,
      atMs,
      order: atMs,
      test,
      manner: n % 10 === 9 ? 'relaxed' : 'strict',
      help: n % 10 === 9 ? { repeat: 1 } : {},
      take,
      zeroSec: 0,
      latency: { ms: 92.5, uncertaintyMs: 2, source: 'loudspeaker' },
      listenerVersion: 1,
      mark: markTask(test, take, { latencyUncertaintyMs: 2 }),
      thresholds: { there: 85, close: 60 },
      answer: kind === 'rhythm' ? 'A' : null,
    } satisfies Attempt;
  });
}

/** Made once and kept: inventing five thousand takes and marking them costs a minute. */
function attempts(size: Size, cache: string): Attempt[] {
  const file = resolve(cache, `attempts-${size.students}-${size.attempts}.json`);
  if (existsSync(file)) return JSON.parse(readFileSync(file, 'utf8')) as Attempt[];
  const made = Array.from({ length: size.students }, (_, n) => attemptsOf(n, size)).flat();
  mkdirSync(cache, { recursive: true });
  writeFileSync(file, JSON.stringify(made));
  return made;
}

/** A backup of the whole desk, its newest attempt of an hour ago. @returns its path and what is in it. */
export async function seedFile(size: Size, cache: string): Promise<{ path: string; records: Records }> {
  const early = attempts(size, cache);
  const shift = Date.now() - 3_600_000 - Math.max(...early.map(({ atMs }) => atMs));
  const moved = early.map((one) => ({ ...one, atMs: one.atMs + shift, order: one.order + shift }));
  const { uniform } = source(7);
  const heard = moved
    .filter((_, i) => i % Math.floor(moved.length / size.sounds) === 0)
    .slice(0, size.sounds);
  const records: Records = {
    students: Array.from({ length: size.students }, (_, n) => ({
      id: studentId(n),
      name: `${String.fromCharCode(65 + (n % 26))}. ${String.fromCharCode(75 + Math.floor(n / 26))}.`,
      instrument: 'guitar',
      createdAtMs: shift,
      ...NO_CARD,
      thresholds: null,
    })),
    attempts: moved,
    overrides: moved
      .filter((_, i) => i % 50 === 0)
      .map((one, i) => ({
        id: id(2_000_000_000 + i),
        attemptId: one.id,
        studentId: one.studentId,
        atMs: one.atMs + 1,
        order: one.order + 1,
        verdicts: [{ index: 0, kind: 'late' }],
        mark: 70,
        remark: 'Count the rest.',
      })),
    lessonNotes: Array.from({ length: size.students }, (_, n) => ({
      id: id(3_000_000_000 + n),
      studentId: studentId(n),
      atMs: shift,
      text: 'Thirds up, slowly, sung first.',
    })),
    homework: Array.from({ length: size.students }, (_, n) => ({
      id: id(3_100_000_000 + n),
      studentId: studentId(n),
      createdAtMs: shift,
      manner: 'strict',
      ...NO_WORDS,
      tests: moved.slice(n, n + 3).map(({ test }) => test as PracticeTest),
      thresholds: null,
    })),
    blindMarks: [],
    sittings: [],
    settings: [],
  };
  // Seven seconds at 16 kHz, a byte a sample, as `squeeze` makes them: noise, so that nothing gets smaller by packing.
  const audio = heard.map((one): SavedAudio => ({
    attemptId: one.id,
    studentId: one.studentId,
    order: one.order,
    mime: 'audio/wav',
    bytes: Uint8Array.from({ length: 112_000 }, () => 256 * uniform()),
  }));
  const path = resolve(cache, 'seed.twobar');
  writeFileSync(path, await packBackup({ exportedAtMs: Date.now(), records, audio }));
  return { path, records };
}
