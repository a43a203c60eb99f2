import type * as everything from '../core.ts';
import { TEST } from '../pages.ts';
import { pageAsked } from './route.svelte.ts';

/** What `core.ts` holds. */
export type Core = typeof everything;

let fetched = $state.raw<Core | null>(null);
let failed = $state(false);
let fetching: Promise<Core> | null = null;

/** What comes after the first page has been drawn (`core.ts`), with the page of a test, so that a test needs no network. */
export const core = {
  /** null until it is there. */
  get now(): Core | null {
    return fetched;
  },
  /** It could not be fetched when it was last asked for; the next question tries again. */
  get failed(): boolean {
    return failed;
  },
  /** Fetches it, once. Rejects where it cannot be fetched now. */
  open(): Promise<Core> {
    failed = false;
    fetching ??= Promise.all([import('../core.ts'), TEST()]).then(
      ([all]) => (fetched = all),
      (error: unknown) => {
        fetching = null;
        failed = true;
        throw error;
      },
    );
    return fetching;
  },
  /**
   * Does something with it: at once where it is there, else as soon as it is, unless its page was left meanwhile. Where
   * it cannot be fetched the app says so.
   */
  with(does: (all: Core) => void): void {
    if (fetched) return does(fetched);
    const stillHere = pageAsked();
    void core.open().then(
      (all) => stillHere() && does(all),
      () => undefined,
    );
  },
};
