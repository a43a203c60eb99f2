import type { Attempt, Student } from '../../store/index.ts';
import type { Marked } from '../session/types.ts';
import { storeCode, type Disk } from './disk.svelte.ts';
import { tryEach, type Tried, type Unsaved } from './unsaved.ts';

export interface UnsavedEdges {
  readonly disk: Pick<Disk, 'use' | 'open' | 'wrote' | 'problem'>;
  /** This take is in the record now. */
  written(attempt: Attempt, marked: Marked): void;
}

/** Finished takes on their way to the record: held in memory, tried until they are written. */
export class UnsavedTakes {
  list = $state.raw<readonly Unsaved[]>([]);
  readonly #edges: UnsavedEdges;
  #saving: Promise<boolean> = Promise.resolve(true);

  constructor(edges: UnsavedEdges) {
    this.#edges = edges;
  }

  /** Holds a take and tries to write it, and whatever waits before it. Resolves when each has been tried. */
  add(take: Unsaved): Promise<boolean> {
    this.list = [...this.list, take];
    return this.saveAgain();
  }

  /** Writes what is not written yet, each take by itself, oldest first; true when all of it is on the disk. */
  saveAgain(): Promise<boolean> {
    this.#saving = this.#saving.then(() => this.#saveEach());
    return this.#saving;
  }

  async #saveEach(): Promise<boolean> {
    const tried = this.list;
    const left = await tryEach(
      tried,
      (one) => this.#write(one),
      ({ marked }, written: Attempt) => {
        this.#edges.disk.wrote();
        this.#edges.written(written, marked);
      },
    );
    // What was finished meanwhile waits for its own turn.
    this.list = [...left, ...this.list.filter((one) => !tried.includes(one))];
    return this.list.length === 0;
  }

  async #write({ id, draftId, studentId, attempt }: Unsaved): Promise<Tried<Attempt>> {
    if (studentId === null) return 'not-now';
    const { disk } = this.#edges;
    try {
      const store = await disk.open();
      if (!store) return 'not-now';
      await store.ready();
      return { written: await store.attempts.finish(draftId, { ...attempt, studentId }, id) };
    } catch (error) {
      if (error instanceof TypeError) return 'never';
      const code = storeCode(error);
      if (code === 'missing') return 'no-student';
      disk.problem = code;
      return 'not-now';
    }
  }

  /** Says whose the takes are that belong to nobody here any more, and tries them again. */
  async give(student: Student): Promise<void> {
    this.list = this.list.map((one) =>
      one.studentId === null ? { ...one, draftId: null, studentId: student.id } : one,
    );
    await this.saveAgain();
  }

  /** Somebody was chosen to play: a take that nobody could be asked about is tried again. */
  retryOrphans(): void {
    if (this.list.some(({ studentId }) => studentId === null)) void this.saveAgain();
  }

  /**
   * The takes that are not in the record as a file that can be restored; null where none fits one.
   * @param me who plays now, null: nobody; @param nobody the name that takes of nobody go under
   */
  async file(me: Student | null, nobody: string): Promise<Uint8Array<ArrayBuffer> | null> {
    const { packTakes } = await import('../../store/index.ts');
    const fitting = this.list.filter(({ never }) => !never);
    if (fitting.length === 0) return null;
    const students = (await this.#edges.disk.use((store) => store.students.all())) ?? [];
    const takes = fitting.map(({ id, atMs, studentId, attempt }) => ({ ...attempt, id, atMs, studentId }));
    return packTakes(takes, [...students, ...(me ? [me] : [])], nobody);
  }

  /** Those that do not fit the record and so no file of it: as they are, to be kept; null where there are none. */
  strangers(): string | null {
    const never = this.list.filter((one) => one.never);
    return never.length === 0 ? null : JSON.stringify(never.map(({ attempt }) => attempt));
  }
}
