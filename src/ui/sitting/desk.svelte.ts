import type { FaultReason, Played, SittingRun, SittingSetup } from '../../music/sitting.ts';
import type { PieceTask } from '../../music/task.ts';
import {
  itemNow,
  readSitting,
  sit,
  startSitting,
  type ProcedureState,
  type SittingEvent,
  type Task,
} from '../../tests-engine/index.ts';
import type { Store, Student } from '../../store/index.ts';
import type { Marked } from '../session/types.ts';

const KEY = 'sitting';

/** A sitting with whoever sits it. */
export interface Sat {
  readonly studentId: string;
  readonly run: SittingRun;
}

/** What the session shows of itself: enough to follow an item to its end. */
interface Taken {
  readonly state: ProcedureState | null;
  readonly storing: boolean;
  readonly unmarked: boolean;
  readonly marked: Marked | null;
  readonly sittingId: string | null;
}

/** What the sitting's desk needs of the page. */
export interface SittingEdges {
  readonly disk: { use<T>(job: (store: Store) => Promise<T>): Promise<T | null> };
  player(): Promise<Student | null>;
  now(): number;
  newId(): string;
  seed(): number;
  /** What the session stands at. */
  taken(): Taken;
  /** The id under which the take shown last is in the record, or will be; null: none. */
  attemptId(): string | null;
  /** The mark that counts: a wrong answer holds it back. */
  counted(marked: Marked): Pick<Marked['mark'], 'mark' | 'outcome'>;
  /** Out of the test's page and to the sitting's. */
  leave(): void;
  play(task: Task, sittingId: string): void;
  /** The piece with its recording in the page; null where the recording is not here. */
  piece(trackId: string): Promise<PieceTask | null>;
  /** The sitting is over and kept. */
  over(id: string): void;
}

/** The sitting under way: kept on the disk with each step, taken up again by any page that opens. */
export class SittingDesk {
  now = $state.raw<Sat | null>(null);
  /** A piece whose recording is not in this page. */
  missing = $state<string | null>(null);
  readonly #edges: SittingEdges;
  /** What comes next is on its way from the disk to the session. */
  #beginning = false;

  constructor(edges: SittingEdges) {
    this.#edges = edges;
  }

  /** Takes up what an earlier page left: a station that was under way begins anew. */
  async look(): Promise<void> {
    if (this.now) return;
    const kept = (await this.#edges.disk.use((store) => store.settings.get(KEY))) as {
      studentId?: unknown;
      run?: unknown;
    } | null;
    const run = readSitting(kept?.run);
    if (!run || typeof kept?.studentId !== 'string' || this.now) return;
    this.now = { studentId: kept.studentId, run };
    await this.send({ type: 'takenUp' });
  }

  /** Begins a sitting; null where nobody is there to sit it. */
  async begin(setup: SittingSetup, examiner: boolean): Promise<void> {
    const student = await this.#edges.player();
    if (!student) return;
    const { newId, seed, now } = this.#edges;
    const run = startSitting(setup, { id: newId(), seed: seed(), atMs: now(), examiner });
    this.now = { studentId: student.id, run };
    await this.#keep();
  }

  /** An event, and what follows from it. Resolves when it is on the disk. */
  async send(event: SittingEvent): Promise<void> {
    const sat = this.now;
    if (!sat) return;
    const run = sit(sat.run, event, this.#edges.now());
    if (run === sat.run) return;
    this.now = { ...sat, run };
    await (run.phase === 'over' ? this.#end() : this.#keep());
  }

  /** Page Down: goes on, and plays what is to be played. Only while that is on its way is a press nothing. */
  async goOn(): Promise<void> {
    if (this.#beginning) return;
    const before = this.now;
    const kept = this.send({ type: 'goOn' });
    const run = this.now?.run;
    if (run?.phase !== 'under') return kept;
    this.#beginning = true;
    try {
      await kept;
      await this.#begin(run, before);
    } finally {
      this.#beginning = false;
    }
  }

  async #begin(run: SittingRun, before: Sat | null): Promise<void> {
    const item = itemNow(run);
    if (item?.is === 'task') this.#edges.play(item.task, run.id);
    if (item?.is !== 'piece') return;
    const piece = await this.#edges.piece(item.trackId);
    this.missing = piece ? null : item.title;
    if (piece) return this.#edges.play({ ...piece, passage: null }, run.id);
    // Nothing has begun: it is as if the key had not been pressed.
    this.now = before;
    await this.#keep();
  }

  /** Called with each change of the session: takes what was played, or notes what broke it off. */
  follow(): void {
    const { state, storing, unmarked, marked, sittingId } = this.#edges.taken();
    const run = this.now?.run;
    if (!state || run?.phase !== 'under' || sittingId !== run.id) return;
    if (state.problem)
      return this.#leave({ type: 'fault', why: state.problem === 'abandoned' ? 'left' : state.problem });
    if (state.step !== 'result' || storing) return;
    const { take } = state;
    if (take.status === 'void') {
      const why: FaultReason = take.reason === 'abandoned' ? 'left' : take.reason;
      return this.#leave({ type: 'fault', why });
    }
    if (unmarked || !marked) return this.#leave({ type: 'fault', why: 'unheard' });
    this.#leave({ type: 'done', played: this.#played(marked) });
  }

  /** The sitting's page is shown: what was under way in the session, and is not any more, was left by hand. */
  shown(): void {
    const run = this.now?.run;
    if (run?.phase !== 'under' || this.#beginning || this.#edges.taken().state) return;
    const item = itemNow(run);
    if (item?.is === 'task' || item?.is === 'piece') void this.send({ type: 'fault', why: 'left' });
  }

  /** An answer to a question; the sound check done: null. */
  answer(right: boolean | null): Promise<void> {
    const played: Played | null =
      right === null
        ? null
        : { kind: 'question', attemptId: null, mark: null, outcome: null, right, own: null };
    return this.send({ type: 'done', played });
  }

  #played(marked: Marked): Played {
    const { mark, outcome } = this.#edges.counted(marked);
    return {
      kind: marked.test.kind,
      attemptId: this.#edges.attemptId(),
      ...{ mark, outcome, right: null, own: null },
    };
  }

  #leave(event: SittingEvent): void {
    void this.send(event);
    if (this.now) this.#edges.leave();
  }

  async #keep(): Promise<void> {
    const plain = JSON.parse(JSON.stringify(this.now)) as never;
    await this.#edges.disk.use((store) => store.settings.set(KEY, plain));
  }

  /** Over: among the kept ones first, then out of the way. Where it cannot be kept it stays, to be tried again. */
  async #end(): Promise<void> {
    const { studentId, run } = this.now!;
    const kept = await this.#edges.disk.use((store) => store.sittings.put(studentId, run));
    if (!kept) return this.#keep();
    await this.#edges.disk.use((store) => store.settings.remove(KEY));
    this.now = null;
    this.#edges.over(run.id);
  }
}
