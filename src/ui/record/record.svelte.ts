import type {
  Attempt,
  Draft,
  Help,
  HomeworkOffer,
  Store,
  StoreProblemCode,
  Student,
  StudentCard,
  Thresholds,
} from '../../store/index.ts';
import { DEFAULT_THRESHOLDS, DIGEST_VERSION, practised } from '../../tests-engine/index.ts';
import type { Help as HelpUsed, Manner, ProcedureState, Programme, Task } from '../../tests-engine/index.ts';
import { LISTENER_VERSION } from '../../audio/listenerVersion.ts';
import { t } from '../messages.ts';
import type { Marked } from '../session/types.ts';
import type { Keeper } from '../session/edges.ts';
import { settings } from '../settings/settings.svelte.ts';
import { followCard } from './card.ts';
import { toldApart } from './names.ts';
import { squeeze } from './squeeze.ts';
import { doubt } from './doubt.ts';
import { checkedThresholds } from './thresholds.ts';
import { countHelp, tryEach, type Tried, type Unsaved } from './unsaved.ts';

const STUDENT = 'student';
const SOUND_LIMIT = 'soundLimitMb';
const THRESHOLDS = 'thresholds';

const HELP: Readonly<Record<HelpUsed['kind'], Help>> = {
  repeat: 'repeat',
  again: 'repeat',
  firstNote: 'first-note',
  slower: 'slower',
  half: 'halves',
};

/** What no longer stands in the way once a take was written. */
const PASSES: ReadonlySet<StoreProblemCode> = new Set([
  'quota',
  'disk',
  'closed',
  'slow',
  'failed',
  'evicted',
]);

/** Where there is no record to be had here. */
const NEVER_KEPT: ReadonlySet<StoreProblemCode> = new Set(['unavailable', 'newer-version']);

/** The code of a problem that the store threw; `failed` for any other error. */
function storeCode(error: unknown): StoreProblemCode {
  const { name, code } = error as { name?: unknown; code?: unknown };
  return name === 'StoreProblem' ? (code as StoreProblemCode) : 'failed';
}

/** 128 random bits, as the record's own ids. */
const newId = (): string =>
  Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, '0')).join(
    '',
  );

/** Resolves when the page is on screen. */
const visible = (): Promise<void> =>
  new Promise((resolve) => {
    const look = (): void => {
      if (document.visibilityState !== 'visible') return;
      document.removeEventListener('visibilitychange', look);
      resolve();
    };
    document.addEventListener('visibilitychange', look);
    look();
  });

/** The homework that a task was set in. */
const homeworkOf = (programme: Programme): string | null =>
  programme.from === 'homework' ? programme.homeworkId : null;

/** The record of this browser as the screens see it: who plays, what was lost, what stands in the way. */
class Keeping implements Keeper {
  store = $state.raw<Store | null>(null);
  problem = $state.raw<StoreProblemCode | null>(null);
  student = $state.raw<Student | null>(null);
  /** Everybody in the record, by name. */
  students = $state.raw<readonly Student[]>([]);
  lost = $state.raw<readonly Draft[]>([]);
  /** Attempt written last, for the result screen. */
  last = $state.raw<Attempt | null>(null);
  /** Finished takes that the disk had no room for: kept in memory, tried again. */
  unsaved = $state.raw<readonly Unsaved[]>([]);
  /** Outcomes that the teacher set for everybody. */
  #deskThresholds = $state.raw<Thresholds>(DEFAULT_THRESHOLDS);
  /** The homework that was opened last; its outcomes are the teacher's. */
  homework: Pick<HomeworkOffer, 'homeworkId' | 'thresholds'> | null = null;
  /** The result on the screen; of all else the sound has left memory. */
  #shown: Marked | null = null;
  #opening: Promise<Store | null> | null = null;
  #draft: Promise<Draft | null> | null = null;
  #saving: Promise<boolean> = Promise.resolve(true);

  /**
   * Opens the record once; null when it cannot be (then `problem` says why, and tests work without it). A disk that
   * was full is tried again each time, and takes are held until there is room on it.
   */
  open(): Promise<Store | null> {
    this.#opening ??= this.#open().then((store) => {
      if (!store && (this.problem === 'disk' || this.problem === 'slow')) this.#opening = null;
      return store;
    });
    return this.#opening;
  }

  async #open(): Promise<Store | null> {
    try {
      // Fetched beside the first page, not before it.
      const { openStore } = await import('../../store/index.ts');
      const store = await openStore({
        digest: practised,
        digestVersion: DIGEST_VERSION,
        doubt,
        onProblem: ({ code }) => (this.problem = code),
      });
      const [lost, id, thresholds] = await Promise.all([
        store.attempts.lost(),
        store.settings.get(STUDENT),
        store.settings.get(THRESHOLDS),
      ]);
      this.lost = lost;
      if (store.evicted) this.problem = 'evicted';
      await this.#look(store);
      this.student = this.students.find((one) => one.id === id) ?? null;
      this.#deskThresholds = checkedThresholds(thresholds) ?? DEFAULT_THRESHOLDS;
      this.store = store;
      return store;
    } catch (error) {
      this.#blame(error);
      return null;
    }
  }

  #blame(error: unknown): void {
    this.problem = storeCode(error);
  }

  /** Runs a job on the record; what stands in the way is shown, and null comes back. */
  async use<T>(job: (store: Store) => Promise<T>): Promise<T | null> {
    try {
      const store = await this.open();
      await store?.ready();
      return store ? await job(store) : null;
    } catch (error) {
      this.#blame(error);
      return null;
    }
  }

  /** The lowest marks for the outcomes that hold for whoever plays. */
  get usualThresholds(): Thresholds {
    return this.student?.thresholds ?? this.#deskThresholds;
  }
  /** Those of a task that came from there. */
  thresholds(programme: Programme): Thresholds {
    const own = programme.from === 'homework' && this.homework?.homeworkId === programme.homeworkId;
    return (own ? this.homework?.thresholds : null) ?? this.usualThresholds;
  }
  get deskThresholds(): Thresholds {
    return this.#deskThresholds;
  }

  /** Sets the outcomes of one student (null: those of everybody), or of everybody who has none of their own. */
  async setThresholds(student: Student | null, thresholds: Thresholds | null): Promise<void> {
    await this.use(async (store) => {
      if (student) {
        await store.students.change(student.id, { thresholds });
        await this.#look(store);
      } else {
        this.#deskThresholds = thresholds ?? DEFAULT_THRESHOLDS;
        await store.settings.set(THRESHOLDS, { ...this.#deskThresholds });
      }
    });
  }

  async #look(store: Store): Promise<void> {
    this.students = await store.students.all();
    const { student } = this;
    if (student) this.student = this.students.find(({ id }) => id === student.id) ?? null;
  }
  /** Reads again who is here: after somebody was added, changed or deleted. */
  lookAround(): Promise<unknown> {
    return this.use((store) => this.#look(store));
  }
  /** A student's name, with what tells them from others of the same name. */
  nameOf(student: Student): string {
    const what = toldApart(student, this.students, (instrument) => t(`check.instrument.${instrument}`));
    return what === null ? student.name : t('player.told-apart', { name: student.name, what });
  }

  /** From now on takes are of this student, whose card says what they play, and how. */
  choose(student: Student): Promise<unknown> {
    this.student = student;
    followCard(student);
    return this.use(async (store) => {
      await store.settings.set(STUDENT, student.id);
      await this.#look(store);
      // A take that nobody could be asked about.
      if (this.unsaved.some(({ studentId }) => studentId === null)) void this.saveAgain();
    });
  }
  /** Changes the card of a student; for whoever plays it holds at once. */
  async setCard(id: string, card: Partial<StudentCard>): Promise<void> {
    await this.use(async (store) => {
      await store.students.change(id, card);
      await this.#look(store);
    });
    // Only what was changed: a level chosen on the start page stays.
    if (this.student?.id === id) followCard({ ...settings.now, ...card });
  }
  /** Several could play and nobody was chosen: a take would go to a record that nobody named. */
  get mustAsk(): boolean {
    return this.student === null && this.students.length > 1;
  }

  /** Who plays: the one chosen, or on a student's own machine the only one, called "Me" at first; null: {@link mustAsk}. */
  async player(): Promise<Student | null> {
    return this.use(async (store) => {
      const here = this.student && (await store.students.get(this.student.id));
      if (here) return here;
      const student = await store.students.onlyOrFirst(t('record.me'), settings.now.instrument);
      if (student) await this.choose(student);
      return student;
    });
  }

  /** The loss of these takes has been told. */
  async told(): Promise<void> {
    const lost = this.lost;
    this.lost = [];
    await this.use((store) => store.attempts.told(lost));
  }

  begin(test: Task, manner: Manner, programme: Programme): void {
    this.#draft = this.player().then((student) =>
      student
        ? this.use((store) =>
            store.attempts.begin({
              studentId: student.id,
              homeworkId: homeworkOf(programme),
              test,
              manner,
            }),
          )
        : null,
    );
  }

  /** Forgets a take that was given up or void, once the user is there to see so: a page that closes hides first. */
  async #abandon(): Promise<void> {
    const begun = this.#draft;
    this.#draft = null;
    await visible();
    const draft = await begun;
    if (draft) await this.use((store) => store.attempts.abandon(draft.id));
  }

  drop(): void {
    void this.#abandon();
  }

  shown(marked: Marked | null): void {
    this.#shown = marked;
  }

  async keep(state: ProcedureState, marked: Marked | null, programme: Programme): Promise<void> {
    this.last = null;
    this.#shown = marked;
    if (!marked || state.take.status === 'void') return void this.#abandon();
    // Where nothing can ever be kept the result says so, and nothing piles up.
    if (!(await this.open()) && this.problem && NEVER_KEPT.has(this.problem)) return;
    const draft = await this.#draft;
    this.#draft = null;
    // Whoever played when the take began, though another be chosen meanwhile in another tab.
    const studentId = draft?.studentId ?? (await this.player())?.id ?? this.student?.id ?? null;
    const live = state.manner === 'relaxed' ? (['live-note'] as const) : [];
    const attempt: Unsaved['attempt'] = {
      homeworkId: homeworkOf(programme),
      test: marked.test,
      manner: state.manner,
      help: countHelp([...live, ...state.help.map(({ kind }) => HELP[kind])]),
      take: marked.take,
      zeroSec: 0,
      latency: Number.isFinite(marked.latency.uncertaintyMs) ? marked.latency : null,
      listenerVersion: LISTENER_VERSION,
      mark: marked.mark,
      thresholds: this.thresholds(programme),
      answer: state.answer,
    };
    const id = newId();
    const atMs = Date.now();
    this.unsaved = [
      ...this.unsaved,
      { id, atMs, draftId: draft?.id ?? null, studentId, attempt, marked, never: false },
    ];
    await this.saveAgain();
  }

  /** Writes what is not written yet, each take by itself, oldest first; true when all of it is on the disk. */
  saveAgain(): Promise<boolean> {
    this.#saving = this.#saving.then(() => this.#saveEach());
    return this.#saving;
  }

  async #saveEach(): Promise<boolean> {
    const tried = this.unsaved;
    const left = await tryEach(
      tried,
      (one) => this.#write(one),
      ({ marked }, written: Attempt) => {
        if (this.problem && PASSES.has(this.problem)) this.problem = null;
        // Only what is still on the screen has its sound; of all else it has left memory.
        if (this.#shown !== marked) return;
        this.last = written;
        void this.#keepSound(written.id, marked);
      },
    );
    // What was finished meanwhile waits for its own turn.
    this.unsaved = [...left, ...this.unsaved.filter((one) => !tried.includes(one))];
    return this.unsaved.length === 0;
  }

  async #write({ id, draftId, studentId, attempt }: Unsaved): Promise<Tried<Attempt>> {
    if (studentId === null) return 'not-now';
    try {
      const store = await this.open();
      if (!store) return 'not-now';
      await store.ready();
      return { written: await store.attempts.finish(draftId, { ...attempt, studentId }, id) };
    } catch (error) {
      if (error instanceof TypeError) return 'never';
      const code = storeCode(error);
      if (code === 'missing') return 'no-student';
      this.problem = code;
      return 'not-now';
    }
  }

  /** Says whose the takes are that belong to nobody here any more, and tries them again. */
  async give(student: Student): Promise<void> {
    this.unsaved = this.unsaved.map((one) =>
      one.studentId === null ? { ...one, draftId: null, studentId: student.id } : one,
    );
    await this.saveAgain();
  }

  /** The takes that are not in the record as a file that can be restored; null where none fits one. */
  async unsavedFile(): Promise<Uint8Array<ArrayBuffer> | null> {
    const { packTakes } = await import('../../store/index.ts');
    const fitting = this.unsaved.filter(({ never }) => !never);
    if (fitting.length === 0) return null;
    const students = (await this.use((store) => store.students.all())) ?? [];
    const takes = fitting.map(({ id, atMs, studentId, attempt }) => ({ ...attempt, id, atMs, studentId }));
    return packTakes(takes, [...students, ...(this.student ? [this.student] : [])], t('record.me'));
  }

  /** MB of sound that the user allows; 0 = none is kept, the default. */
  async soundLimitMb(): Promise<number> {
    const value = await this.use((store) => store.settings.get(SOUND_LIMIT));
    return typeof value === 'number' && value >= 0 ? value : 0;
  }

  setSoundLimitMb(limit: number): Promise<unknown> {
    return this.use(async (store) => {
      await store.settings.set(SOUND_LIMIT, limit);
      await store.audio.shrink(limit * 1e6);
    });
  }

  async #keepSound(attemptId: string, { sound }: Marked): Promise<void> {
    const limit = (await this.soundLimitMb()) * 1e6;
    // There is something to lose now: ask the browser once to keep it.
    void import('../../store/index.ts').then(({ askToKeep }) => askToKeep());
    if (limit <= 0) return;
    const { samples, sampleRate } = sound.recording;
    const bytes = squeeze(samples.subarray(sound.zeroSample), sampleRate);
    await this.use((store) => store.audio.save(attemptId, { mime: 'audio/wav', bytes }, limit));
  }
}

export const record = new Keeping();
