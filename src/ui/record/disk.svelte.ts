import type { Draft, Store, StoreProblemCode } from '../../store/index.ts';

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
export function storeCode(error: unknown): StoreProblemCode {
  const { name, code } = error as { name?: unknown; code?: unknown };
  // All data of sites is blocked: the record's own code may not get as far as its own error.
  if (name === 'SecurityError') return 'unavailable';
  return name === 'StoreProblem' ? (code as StoreProblemCode) : 'failed';
}

export interface DiskEdges {
  /** Opens the database; `onProblem` is told when it is closed under us. */
  open(onProblem: (code: StoreProblemCode) => void): Promise<Store>;
  /** Reads what the page must know before it uses the record. */
  read(store: Store): Promise<unknown>;
}

/** The database of this browser as the screens see it: opened once, and what stands in its way. */
export class Disk {
  store = $state.raw<Store | null>(null);
  problem = $state.raw<StoreProblemCode | null>(null);
  /** Takes that an earlier page began and never finished. */
  lost = $state.raw<readonly Draft[]>([]);
  readonly #edges: DiskEdges;
  #opening: Promise<Store | null> | null = null;

  constructor(edges: DiskEdges) {
    this.#edges = edges;
  }

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
      const store = await this.#edges.open((code) => (this.problem = code));
      this.lost = await store.attempts.lost();
      if (store.evicted) this.problem = 'evicted';
      await this.#edges.read(store);
      this.store = store;
      return store;
    } catch (error) {
      this.problem = storeCode(error);
      return null;
    }
  }

  /** Runs a job on the record; what stands in the way is shown, and null comes back. */
  async use<T>(job: (store: Store) => Promise<T>): Promise<T | null> {
    try {
      const store = await this.open();
      await store?.ready();
      return store ? await job(store) : null;
    } catch (error) {
      this.problem = storeCode(error);
      return null;
    }
  }

  /** Whether nothing can ever be kept here. */
  async isHopeless(): Promise<boolean> {
    return !(await this.open()) && this.problem !== null && NEVER_KEPT.has(this.problem);
  }

  /** Something was written: what stood in the way of that no longer does. */
  wrote(): void {
    if (this.problem && PASSES.has(this.problem)) this.problem = null;
  }

  /** The loss of these takes has been told. */
  async told(): Promise<void> {
    const { lost } = this;
    this.lost = [];
    await this.use((store) => store.attempts.told(lost));
  }
}
