import type { Task } from '../../music/task.ts';

/** A test chosen to go into the next homework of a student, with the words it is shown by. */
export interface Chosen {
  readonly id: string;
  readonly name: string;
  readonly test: Task;
}

/** Very tests put by for the next homework, from a result, the record or the own phrases. Lasts as long as the page. */
class Basket {
  #chosen = $state.raw<ReadonlyMap<string, readonly Chosen[]>>(new Map());

  of(studentId: string): readonly Chosen[] {
    return this.#chosen.get(studentId) ?? [];
  }
  /** The same test is in it once. */
  add(studentId: string, chosen: Chosen): void {
    const others = this.of(studentId).filter(({ id }) => id !== chosen.id);
    this.#set(studentId, [...others, chosen]);
  }
  remove(studentId: string, id: string): void {
    this.#set(
      studentId,
      this.of(studentId).filter((one) => one.id !== id),
    );
  }
  clear(studentId: string): void {
    this.#set(studentId, []);
  }
  #set(studentId: string, list: readonly Chosen[]): void {
    this.#chosen = new Map([...this.#chosen, [studentId, list]]);
  }
}

export const basket = new Basket();
