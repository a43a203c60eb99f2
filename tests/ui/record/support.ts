import type {
  Attempt,
  Draft,
  NewAttempt,
  Store,
  StoreProblemCode,
  Student,
} from '../../../src/store/index.ts';
import { StoreProblem } from '../../../src/store/index.ts';
import { NO_CARD } from '../../../src/store/schema/migrations.ts';
import { Disk } from '../../../src/ui/record/disk.svelte.ts';

export const ID = (n: number): string => n.toString(16).padStart(32, '0');

export const student = (n: number, name: string): Student => ({
  ...NO_CARD,
  ...{ id: ID(n), name, instrument: 'bass', createdAtMs: n, thresholds: null },
});

/** A record in memory: what is asked of it is written down, and it refuses when the test says so. */
export function memory(students: Student[] = []) {
  const settings = new Map<string, unknown>();
  const drafts = new Map<string, Draft>();
  const written: Attempt[] = [];
  const sounds: { attemptId: string; limit: number }[] = [];
  let refusal: Error | null = null;
  const job = <T>(result: () => T): Promise<T> =>
    refusal ? Promise.reject(refusal) : Promise.resolve().then(result);
  const store = {
    evicted: false,
    ready: async () => undefined,
    settings: {
      get: async (key: string) => settings.get(key) ?? null,
      set: async (key: string, value: unknown) => void settings.set(key, value),
      remove: async (key: string) => void settings.delete(key),
    },
    students: {
      all: async () => [...students],
      get: async (id: string) => students.find((one) => one.id === id) ?? null,
      change: async (id: string, card: Partial<Student>) => {
        students = students.map((one) => (one.id === id ? { ...one, ...card } : one));
      },
      onlyOrFirst: async (name: string) => {
        if (students.length === 0) students = [student(90, name)];
        return students.length === 1 ? students[0]! : null;
      },
    },
    attempts: {
      lost: async () => [],
      told: async () => undefined,
      begin: async (draft: Omit<Draft, 'id'>) => {
        const begun = { ...draft, id: ID(1000 + drafts.size) } as Draft;
        drafts.set(begun.id, begun);
        return begun;
      },
      abandon: async (id: string) => void drafts.delete(id),
      finish: (draftId: string | null, attempt: NewAttempt, id: string) =>
        job(() => {
          if (draftId !== null) drafts.delete(draftId);
          const whole = { ...attempt, id, order: written.length, atMs: 0 } as Attempt;
          written.push(whole);
          return whole;
        }),
    },
    audio: {
      shrink: async () => undefined,
      save: async (attemptId: string, _sound: unknown, limit: number) =>
        void sounds.push({ attemptId, limit }),
    },
  } as unknown as Store;
  return {
    ...{ store, settings, drafts, written, sounds },
    /** From now on takes are refused so; null: taken. */
    refuse: (why: Error | StoreProblemCode | null) =>
      (refusal = typeof why === 'string' ? new StoreProblem(why, 'for the test') : why),
    delete: (id: string) => (students = students.filter((one) => one.id !== id)),
  };
}

/** A disk over such a record. */
export const diskOf = (
  store: Store,
  read: (store: Store) => Promise<unknown> = async () => undefined,
): Disk => new Disk({ open: async () => store, read });
