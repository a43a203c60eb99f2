/**
 * Something that takes long to build, built once: whole when it is asked for, or in slices before that, so that
 * whoever waits can answer in between. Either way it is the same thing.
 */
export class Building<T> {
  readonly #steps: Iterator<void, T>;
  #done: { readonly value: T } | null = null;
  #failed: { readonly error: unknown } | null = null;

  /** @param steps yields at every pause and returns what was built. */
  constructor(steps: Iterator<void, T>) {
    this.#steps = steps;
  }

  /** Goes on to the next pause. @returns true when nothing is left to do. @throws what the building threw, again. */
  #slice(): boolean {
    if (this.#failed) throw this.#failed.error;
    if (this.#done) return true;
    try {
      const { done, value } = this.#steps.next();
      if (done) this.#done = { value };
      return done === true;
    } catch (error) {
      this.#failed = { error };
      throw error;
    }
  }

  /** What is built; what is still missing of it is built now. */
  whole(): T {
    while (!this.#slice());
    return this.#done!.value;
  }

  /** Builds, pausing at every `yield`. */
  *slices(): Generator<void, void> {
    while (!this.#slice()) yield;
  }
}
