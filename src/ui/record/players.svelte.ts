import type { Store, Student, StudentCard } from '../../store/index.ts';
import { DEFAULT_THRESHOLDS, type Thresholds } from '../../music/outcome.ts';
import { countsIn, QUESTION_COUNTS as COUNTED, type QuestionCounts } from '../../music/question.ts';
import { checkedThresholds } from '../../music/schema/index.ts';
import type { Instrument } from '../../music/score.ts';
import type { Disk } from './disk.svelte.ts';
import { toldApart } from './names.ts';

const STUDENT = 'student';
const THRESHOLDS = 'thresholds';
const QUESTION_COUNTS = 'questionCounts';
const COUNTS: readonly unknown[] = COUNTED;

export interface PlayersEdges {
  readonly disk: Pick<Disk, 'use'>;
  /** The settings of the page become those of a card; what it does not name stays. */
  follow(card: StudentCard | Partial<StudentCard>): void;
  /** Somebody was chosen to play. */
  chosen(student: Student): void;
  /** The name of the only student, until another is given. */
  readonly me: () => string;
  readonly instrument: () => Instrument;
  /** A name with what tells it from the same name. */
  readonly apart: (name: string, what: string) => string;
  readonly instrumentWord: (instrument: Instrument) => string;
}

/** Who is in the record, who plays, and by which marks their outcomes are told. */
export class Players {
  /** The one who was chosen to play. */
  student = $state.raw<Student | null>(null);
  /** Everybody in the record, by name. */
  students = $state.raw<readonly Student[]>([]);
  /** Outcomes that the teacher set for everybody. */
  deskThresholds = $state.raw<Thresholds>(DEFAULT_THRESHOLDS);
  /** Whether a wrong answer to the question about a rhythm holds the outcome back. */
  questionCounts = $state.raw<QuestionCounts>('strict');
  readonly #edges: PlayersEdges;

  constructor(edges: PlayersEdges) {
    this.#edges = edges;
  }

  /** What the record says, when it opens. */
  async read(store: Store): Promise<void> {
    const [students, id, thresholds, counts] = await Promise.all([
      store.students.all(),
      store.settings.get(STUDENT),
      store.settings.get(THRESHOLDS),
      store.settings.get(QUESTION_COUNTS),
    ]);
    this.students = students;
    this.student = students.find((one) => one.id === id) ?? null;
    this.deskThresholds = checkedThresholds(thresholds) ?? DEFAULT_THRESHOLDS;
    if (COUNTS.includes(counts)) this.questionCounts = counts as QuestionCounts;
  }

  async #look(store: Store): Promise<void> {
    this.students = await store.students.all();
    const { student } = this;
    if (student) this.student = this.students.find(({ id }) => id === student.id) ?? null;
  }
  /** Reads again who is here: after somebody was added, changed or deleted. */
  lookAround(): Promise<unknown> {
    return this.#edges.disk.use((store) => this.#look(store));
  }

  /** A student's name, with what tells them from others of the same name. */
  nameOf(student: Student): string {
    const what = toldApart(student, this.students, this.#edges.instrumentWord);
    return what === null ? student.name : this.#edges.apart(student.name, what);
  }

  /** From now on takes are of this student, whose card says what they play, and how. */
  choose(student: Student): Promise<unknown> {
    this.student = student;
    this.#edges.follow(student);
    return this.#edges.disk.use(async (store) => {
      await store.settings.set(STUDENT, student.id);
      await this.#look(store);
      this.#edges.chosen(student);
    });
  }

  /** Changes the card of a student; for whoever plays it holds at once. */
  async setCard(id: string, card: Partial<StudentCard>): Promise<void> {
    await this.#edges.disk.use(async (store) => {
      await store.students.change(id, card);
      await this.#look(store);
    });
    // Only what was changed: a level chosen on the start page stays.
    if (this.student?.id === id) this.#edges.follow(card);
  }

  /** Several could play and nobody was chosen: a take would go to a record that nobody named. */
  get mustAsk(): boolean {
    return this.student === null && this.students.length > 1;
  }

  /** Who plays: the one chosen, or on a student's own machine the only one, called "Me" at first; null: {@link mustAsk}. */
  async player(): Promise<Student | null> {
    return this.#edges.disk.use(async (store) => {
      const here = this.student && (await store.students.get(this.student.id));
      if (here) return here;
      const student = await store.students.onlyOrFirst(this.#edges.me(), this.#edges.instrument());
      if (student) await this.choose(student);
      return student;
    });
  }

  /** The lowest marks for the outcomes that hold for whoever plays. */
  get usualThresholds(): Thresholds {
    return this.student?.thresholds ?? this.deskThresholds;
  }

  /** Whether a wrong answer counts in this manner. */
  counts(manner: 'strict' | 'relaxed'): boolean {
    return countsIn(this.questionCounts, manner);
  }
  /** Sets whether a wrong answer holds the outcome back, from now on. */
  async setQuestionCounts(counts: QuestionCounts): Promise<void> {
    this.questionCounts = counts;
    await this.#edges.disk.use((store) => store.settings.set(QUESTION_COUNTS, counts));
  }

  /** Sets the outcomes of one student (null: those of everybody), or of everybody who has none of their own. */
  async setThresholds(student: Student | null, thresholds: Thresholds | null): Promise<void> {
    await this.#edges.disk.use(async (store) => {
      if (student) {
        await store.students.change(student.id, { thresholds });
        await this.#look(store);
      } else {
        this.deskThresholds = thresholds ?? DEFAULT_THRESHOLDS;
        await store.settings.set(THRESHOLDS, { ...this.deskThresholds });
      }
    });
  }
}
