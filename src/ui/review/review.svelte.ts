import { ofNotes, type AnyMark } from '../../tests-engine/index.ts';
import {
  effectiveMark,
  type Attempt,
  type Doubt,
  type Override,
  type RubricLine,
  type SavedAudio,
} from '../../store/index.ts';
import { record } from '../record/record.svelte.ts';
import { keepTyped, typedBefore } from '../record/typed.svelte.ts';
import { followedMark } from './follow.ts';

type Given = Override['verdicts'][number];

/** Verdicts as a teacher gave them last, the mark beside them, and what is being changed now. */
export class Review {
  attempt = $state.raw<Attempt | null>(null);
  overrides = $state.raw<readonly Override[]>([]);
  sound = $state.raw<SavedAudio | null>(null);
  /** Changed verdicts, by their index in the attempt's mark. */
  changes = $state.raw<readonly Given[]>([]);
  /** The mark typed; empty: the one that follows from the verdicts. */
  typed = $state('');
  remark = $state('');
  /** The teacher's own lines as they are filled in; none where the task has no such. */
  rubric = $state.raw<readonly RubricLine[]>([]);
  /** Whether what stands in the lines can be kept. */
  rubricFits = $state(true);
  /** Index into the phrase of the note whose verdict is being chosen. */
  picked = $state<number | null>(null);
  /** Why the attempt is not counted; null where it is. */
  doubt = $state.raw<Doubt | null>(null);
  /** Something was kept since the attempt was opened. */
  kept = $state(false);

  /** The mark that follows from the changed verdicts; the machine's own where none is changed. */
  readonly followed = $derived(this.attempt ? followedMark(this.attempt, this.changes) : null);
  readonly number = $derived(this.typed.trim() === '' ? null : Number(this.typed.trim().replace(',', '.')));
  /** Whether what was typed is a mark. */
  readonly fits = $derived(this.number === null || (this.number >= 0 && this.number <= 100));
  /** The machine's, with what a wrong answer to the question holds back. */
  readonly own = $derived(this.attempt && effectiveMark(this.attempt, []));
  /** The mark as it would be kept now; the attempt's own is not touched. */
  readonly mark = $derived.by((): AnyMark | null => {
    if (!this.attempt) return null;
    const { mark } = this.attempt;
    const own = this.fits ? this.number : null;
    const value = own ?? (this.changes.length > 0 ? this.followed : mark.mark);
    if (this.changes.length === 0 && value === mark.mark) return this.own;
    const now = { attemptId: this.attempt.id, studentId: this.attempt.studentId, id: '', atMs: 0, order: 0 };
    return effectiveMark(this.attempt, [{ ...now, verdicts: this.changes, mark: value, remark: '' }]);
  });
  /** The teacher's word differs from the machine's: its advice would speak against them. */
  readonly differs = $derived(this.mark !== this.own);

  /** Reads the attempt and what was given it before; `id` null forgets it. */
  async open(id: string | null): Promise<void> {
    if (id === null) return void (this.attempt = null);
    const found = await record.use((store) =>
      Promise.all([store.attempts.get(id), store.attempts.overridesOf(id), store.audio.get(id)]),
    );
    const [attempt, overrides, sound] = found ?? [null, [], null];
    const last = overrides[overrides.length - 1];
    this.changes = last?.verdicts ?? [];
    this.remark = last?.remark ?? '';
    this.rubric = last?.rubric ?? [];
    this.rubricFits = true;
    this.sound = sound;
    this.overrides = overrides;
    this.picked = null;
    this.kept = false;
    this.attempt = attempt;
    const given = last?.mark ?? null;
    this.typed = given === null || given === this.followed ? '' : String(given);
    this.#saved = this.#unsaved;
    this.#bringBack();
    this.doubt = attempt && (await record.use((store) => store.attempts.doubtOf(attempt)));
  }

  /** What is typed and chosen now, as it outlives the page until it is kept. */
  readonly #unsaved = $derived(JSON.stringify([this.typed, this.remark, this.changes]));
  #saved = '';
  readonly #name = $derived(this.attempt && `attempt.${this.attempt.studentId}.${this.attempt.id}`);

  #bringBack(): void {
    const typed = this.#name === null ? null : typedBefore(this.#name);
    if (typed === null) return;
    try {
      [this.typed, this.remark, this.changes] = JSON.parse(typed) as [string, string, Given[]];
    } catch {
      // None of ours: what was kept stands.
    }
  }
  /** Inside an effect: what is typed outlives the page. */
  keepTyped(): void {
    const [name, text] = [this.#name, this.#unsaved];
    if (name !== null) keepTyped(name, text, this.#saved);
  }

  /** The machine's verdicts on notes; none where it gave no such. */
  readonly verdicts = $derived((this.attempt && ofNotes(this.attempt.mark)?.verdicts) ?? []);
  /** Index of the verdict on a written note; -1 for none. */
  verdictOf(noteIndex: number): number {
    return this.verdicts.findIndex(({ targetIndex }) => targetIndex === noteIndex);
  }
  /** The machine's verdicts on chords; none where it gave no such. */
  readonly onChords = $derived(
    (this.attempt?.mark.type === 'chords' ? this.attempt.mark : null)?.verdicts ?? [],
  );
  kindOf(index: number): Given['kind'] {
    const own = this.verdicts[index] ?? this.onChords[index];
    return this.changes.find((one) => one.index === index)?.kind ?? own!.kind;
  }
  /** Gives a note or a chord another verdict; the machine's own takes the change back. */
  change(index: number, kind: Given['kind']): void {
    const others = this.changes.filter((one) => one.index !== index);
    const own = this.verdicts[index] ?? this.onChords[index];
    this.changes = own?.kind === kind ? others : [...others, { index, kind }];
  }

  /** Keeps verdicts, mark and remark beside the machine's; false where the mark is none or the disk is full. */
  async keep(): Promise<boolean> {
    const { attempt } = this;
    if (!attempt || !this.fits || !this.rubricFits) return false;
    const mark = this.number ?? (this.changes.length > 0 ? this.followed : null);
    const written = await record.use((store) =>
      store.attempts.override({
        attemptId: attempt.id,
        verdicts: this.changes,
        mark,
        remark: this.remark,
        ...(this.rubric.length > 0 ? { rubric: this.rubric } : {}),
      }),
    );
    if (!written) return false;
    this.overrides = [...this.overrides, written];
    this.#saved = this.#unsaved;
    this.keepTyped();
    this.kept = true;
    return true;
  }
}
