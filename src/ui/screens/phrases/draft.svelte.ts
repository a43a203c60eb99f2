import type { PracticeTest } from '../../../music/score.ts';

/** A phrase that is being looked at and is not kept yet, with what the ear said of it. */
export interface Draft {
  readonly name: string;
  readonly test: PracticeTest;
  readonly doubtful: readonly number[];
  readonly leftOut: number;
  readonly lateMs: number;
}

let waiting = $state.raw<Draft | null>(null);

/** The draft that `#/phrases/new` shows; lost with the page, as anything unsaved. */
export const draft = {
  get now(): Draft | null {
    return waiting;
  },
  set(next: Draft | null): void {
    waiting = next;
  },
};
