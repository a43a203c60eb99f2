import type { PracticeTest } from '../../../music/score.ts';
import {
  changeLength,
  cutTo,
  insertAfter,
  insertAt,
  harmonised,
  lineOf,
  moveAll,
  movePitch,
  moveStart,
  rangeOf,
  removeNote,
  writeLine,
  barTicks,
  type Line,
} from '../../../tests-engine/index.ts';

export type Correction =
  | 'up'
  | 'down'
  | 'octaveUp'
  | 'octaveDown'
  | 'allUp'
  | 'allDown'
  | 'longer'
  | 'shorter'
  | 'earlier'
  | 'later'
  | 'insert'
  | 'delete';

const MOST_UNDO = 100;

/** A test's phrase under correction: one note is chosen, each correction can be undone. */
export class Editor {
  test = $state.raw<PracticeTest>() as PracticeTest;
  chosen = $state(0);
  /** What moves and lengthens, ticks. */
  step = $state(240);
  doubtful = $state.raw<readonly number[]>([]);
  #past = $state.raw<readonly { test: PracticeTest; doubtful: readonly number[]; chosen: number }[]>([]);

  constructor(test: PracticeTest, doubtful: readonly number[]) {
    this.test = test;
    this.doubtful = doubtful;
    this.chosen = doubtful[0] ?? 0;
  }

  get canUndo(): boolean {
    return this.#past.length > 0;
  }

  choose(index: number): void {
    this.chosen = Math.max(0, Math.min(this.test.phrase.notes.length - 1, index));
  }

  /** @returns false where the correction cannot be. */
  correct(what: Correction): boolean {
    const { phrase, tuning } = this.test;
    const line = lineOf(phrase);
    const end = phrase.bars * barTicks(phrase.metre);
    const [i, step, range] = [this.chosen, this.step, rangeOf(tuning)];
    const next: Line = {
      up: () => movePitch(line, i, 1, range),
      down: () => movePitch(line, i, -1, range),
      octaveUp: () => movePitch(line, i, 12, range),
      octaveDown: () => movePitch(line, i, -12, range),
      allUp: () => moveAll(line, 12, range),
      allDown: () => moveAll(line, -12, range),
      longer: () => changeLength(line, i, step, end),
      shorter: () => changeLength(line, i, -step, end),
      earlier: () => moveStart(line, i, -step, end),
      later: () => moveStart(line, i, step, end),
      insert: () => insertAfter(line, i, step, end),
      delete: () => removeNote(line, i),
    }[what]();
    if (next === line) return false;
    // A note that was corrected has been looked at; the others keep their question marks.
    const shift = next.length - line.length;
    const doubtful = this.doubtful
      .filter((index) => index !== i || what === 'allUp' || what === 'allDown')
      .map((index) => (index > i ? index + shift : index));
    this.#change(this.#written(next, this.test), doubtful);
    this.choose(what === 'insert' ? i + 1 : i);
    return true;
  }

  /**
   * Writes a note of this pitch class (0…11, C = 0) after the chosen one, as near to it as can be; of the length that the
   * step says. @returns false where there is no room
   */
  write(pitchClass: number): boolean {
    const from = this.test.phrase.notes[this.chosen]!.midi;
    if (!this.correct('insert')) return false;
    const { phrase, tuning } = this.test;
    const line = lineOf(phrase);
    const now = line[this.chosen]!.midi;
    const near = from + ((((pitchClass - from) % 12) + 18) % 12) - 6;
    const [low, high] = rangeOf(tuning);
    const midi = near < low ? near + 12 : near > high ? near - 12 : near;
    this.test = this.#written(movePitch(line, this.chosen, midi - now, [low, high]), this.test);
    return true;
  }

  /**
   * Writes a note here, of the length that the step says: what sounds there ends before it, and it ends where the next
   * begins. @returns false where one begins there already, or no string has the pitch
   */
  writeAt(startTicks: number, midi: number): boolean {
    const { phrase, tuning } = this.test;
    const [low, high] = rangeOf(tuning);
    if (midi < low || midi > high) return false;
    const line = lineOf(phrase);
    const note = { startTicks, durationTicks: this.step, midi };
    const next = insertAt(line, note, phrase.bars * barTicks(phrase.metre));
    if (next === line) return false;
    const index = next.findIndex((one) => one.startTicks === startTicks);
    const doubtful = this.doubtful.map((one) => (one >= index ? one + 1 : one));
    this.#change(this.#written(next, this.test), doubtful);
    this.choose(index);
    return true;
  }

  /** The chosen note takes this pitch. @returns false where no string has it, or it has it already */
  setPitch(midi: number): boolean {
    const { phrase, tuning } = this.test;
    const line = lineOf(phrase);
    const next = movePitch(line, this.chosen, midi - line[this.chosen]!.midi, rangeOf(tuning));
    if (next === line || midi === line[this.chosen]!.midi) return false;
    const doubtful = this.doubtful.filter((one) => one !== this.chosen);
    this.#change(this.#written(next, this.test), doubtful);
    return true;
  }

  /** Everything about the test but its notes; a new key spells them anew, fewer bars cut them. */
  set(some: Partial<Pick<PracticeTest, 'key' | 'style' | 'swing' | 'tempoBpm' | 'procedure'>>): void {
    const test = { ...this.test, ...some };
    this.#change(some.key ? this.#written(lineOf(test.phrase), test) : own(test), this.doubtful);
  }

  /** @returns false where no note would be left. */
  setBars(bars: number): boolean {
    const { phrase } = this.test;
    const line = cutTo(lineOf(phrase), bars * barTicks(phrase.metre));
    if (line.length === 0) return false;
    const test = { ...this.test, phrase: { ...phrase, bars } };
    this.#change(
      this.#written(line, test),
      this.doubtful.filter((index) => index < line.length),
    );
    this.choose(this.chosen);
    return true;
  }

  undo(): void {
    const last = this.#past[this.#past.length - 1];
    if (!last) return;
    this.#past = this.#past.slice(0, -1);
    this.test = last.test;
    this.doubtful = last.doubtful;
    this.chosen = last.chosen;
  }

  #change(test: PracticeTest, doubtful: readonly number[]): void {
    const { chosen } = this;
    this.#past = [...this.#past, { test: this.test, doubtful: this.doubtful, chosen }].slice(-MOST_UNDO);
    this.test = test;
    this.doubtful = doubtful;
  }

  #written(line: Line, test: PracticeTest): PracticeTest {
    const { key, tuning, phrase } = test;
    return own({ ...test, phrase: writeLine(line, { metre: phrase.metre, bars: phrase.bars, key, tuning }) });
  }
}

/** A test changed by hand is no level's any more; its chords follow from what it is now. */
const own = (test: PracticeTest): PracticeTest => harmonised({ ...test, level: null, seed: null });
