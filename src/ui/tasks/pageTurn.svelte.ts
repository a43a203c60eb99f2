/** What the two keys do first while a page of music is taller than the window for it; null: nothing lies that way. */
export interface PageTurn {
  readonly onward: (() => void) | null;
  readonly back: (() => void) | null;
}

/** Where all of the page is in view, or it follows what is being played by itself. */
const STILL: PageTurn = { onward: null, back: null };
let turning = $state.raw(STILL);

export const pageTurn = {
  get onward(): PageTurn['onward'] {
    return turning.onward;
  },
  get back(): PageTurn['back'] {
    return turning.back;
  },
};

/** Turns by these until the returned function is called. */
export function turnBy(turn: PageTurn): () => void {
  turning = turn;
  return () => (turning = STILL);
}
