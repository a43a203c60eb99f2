import type { Instrument } from '../music/score.ts';
import type { Context } from './context.ts';
import { OF_A_STUDENT } from './database.ts';
import { randomId } from './ids.ts';
import { asStoreProblem, StoreProblem } from './problem.ts';
import { checkOwn } from './schema/index.ts';
import { NO_CARD, NO_OUTCOMES, NO_WORDS } from './schema/migrations.ts';
import { goWith } from './sync/log.ts';
import type { Attempt, BlindMark, Homework, LessonNote, SavedAudio, Student, StudentCard } from './types.ts';

/** Students and what a teacher writes about them. */
export function students({ db, now }: Context) {
  const known = async (studentId: string) => {
    if (!(await db.students.get(studentId))) throw new StoreProblem('missing', `no student ${studentId}`);
  };
  const at = () => Math.floor(now());
  return {
    /** By name, in the reader's own alphabet. */
    all: (): Promise<Student[]> =>
      asStoreProblem(async () =>
        (await db.students.toArray()).sort((a, b) => a.name.localeCompare(b.name) || (a.id < b.id ? -1 : 1)),
      ),
    get: (id: string): Promise<Student | null> =>
      asStoreProblem(async () => (await db.students.get(id)) ?? null),
    /** @throws TypeError when the name is empty or over 60 characters. */
    add: (name: string, instrument: Instrument): Promise<Student> =>
      asStoreProblem(async () => {
        const student = checkOwn('students', {
          id: randomId(),
          name,
          instrument,
          ...NO_CARD,
          createdAtMs: at(),
          thresholds: null,
        });
        await db.students.add(student as Student);
        return student as Student;
      }),
    /** The only student, or a first one of this name where there is none; null where there are several. */
    onlyOrFirst: (name: string, instrument: Instrument): Promise<Student | null> =>
      asStoreProblem(() =>
        // One transaction: two that ask at once, in this tab or another, are given the same student.
        db.transaction('rw', db.students, async () => {
          const [one, other] = await db.students.limit(2).toArray();
          if (one) return other ? null : one;
          const first = { id: randomId(), name, instrument, ...NO_CARD, createdAtMs: at(), thresholds: null };
          const student = checkOwn('students', first) as Student;
          await db.students.add(student);
          return student;
        }),
      ),
    change: (id: string, change: Partial<StudentCard>): Promise<void> =>
      asStoreProblem(() =>
        db.transaction('rw', db.students, async () => {
          const student = await db.students.get(id);
          if (!student) throw new StoreProblem('missing', `no student ${id}`);
          await db.students.put(checkOwn('students', { ...student, ...change }) as Student);
        }),
      ),

    /**
     * Deletes a student and everything of theirs here, and each setting that names them. Files exported earlier remain
     * where they are.
     */
    remove: (id: string): Promise<void> =>
      asStoreProblem(() =>
        db.transaction(
          'rw',
          [db.students, db.settings, ...OF_A_STUDENT.map((table) => db[table])],
          async () => {
            goWith(id);
            for (const table of OF_A_STUDENT) await db.table(table).where('studentId').equals(id).delete();
            await db.students.delete(id);
            await db.settings
              .filter(({ key, value }) => key.includes(id) || JSON.stringify(value).includes(id))
              .delete();
          },
        ),
      ),

    /** Lesson notes, newest first. */
    notes: (studentId: string): Promise<LessonNote[]> =>
      asStoreProblem(async () =>
        (await db.lessonNotes.where('studentId').equals(studentId).sortBy('atMs')).reverse(),
      ),
    addNote: (studentId: string, text: string): Promise<LessonNote> =>
      asStoreProblem(() =>
        db.transaction('rw', [db.students, db.lessonNotes], async () => {
          await known(studentId);
          const note = checkOwn('lessonNotes', { id: randomId(), studentId, atMs: at(), text }) as LessonNote;
          await db.lessonNotes.add(note);
          return note;
        }),
      ),
    removeNote: (id: string): Promise<void> => asStoreProblem(() => db.lessonNotes.delete(id)),

    homework: (studentId: string): Promise<Homework[]> =>
      asStoreProblem(async () =>
        (await db.homework.where('studentId').equals(studentId).sortBy('createdAtMs')).reverse(),
      ),
    setHomework: (
      given: Pick<Homework, 'studentId' | 'manner' | 'tests'> &
        Partial<Pick<Homework, 'dueOn' | 'text' | 'thresholds' | 'question' | 'sitting'>>,
    ): Promise<Homework> =>
      asStoreProblem(() =>
        db.transaction('rw', [db.students, db.homework], async () => {
          await known(given.studentId);
          const id = randomId();
          const homework = checkOwn('homework', {
            id,
            createdAtMs: at(),
            ...NO_WORDS,
            ...NO_OUTCOMES,
            ...given,
            // What is sat of it is known by its id.
            ...(given.sitting ? { sitting: { ...given.sitting, id } } : {}),
          }) as Homework;
          await db.homework.add(homework);
          return homework;
        }),
      ),

    /** The oldest take with saved sound that this rater has not marked yet, and how many there are. */
    nextBlind: (
      rater: string,
    ): Promise<{ readonly left: number; readonly next: { attempt: Attempt; sound: SavedAudio } | null }> =>
      asStoreProblem(() =>
        db.transaction('r', [db.attempts, db.audio, db.audioSizes, db.blindMarks], async () => {
          const given = await db.blindMarks.toArray();
          const done = new Set(given.flatMap((one) => (one.rater === rater ? [one.attemptId] : [])));
          const left = (await db.audioSizes.orderBy('order').toArray()).filter(
            (one) => !done.has(one.attemptId),
          );
          const first = left[0]?.attemptId;
          const attempt = first === undefined ? undefined : await db.attempts.get(first);
          const sound = first === undefined ? undefined : await db.audio.get(first);
          return { left: left.length, next: attempt && sound ? { attempt, sound } : null };
        }),
      ),
    /** A mark given without seeing the machine's; each stays, also a second one by the same person. */
    addBlindMark: (attemptId: string, rater: string, value: number): Promise<BlindMark> =>
      asStoreProblem(() =>
        db.transaction('rw', [db.attempts, db.blindMarks], async () => {
          const attempt = await db.attempts.get(attemptId);
          if (!attempt) throw new StoreProblem('missing', `no attempt ${attemptId}`);
          const { studentId } = attempt;
          const mark = { id: randomId(), attemptId, studentId, rater, value, atMs: at() };
          const checked = checkOwn('blindMarks', mark) as BlindMark;
          await db.blindMarks.add(checked);
          return checked;
        }),
      ),
  };
}
