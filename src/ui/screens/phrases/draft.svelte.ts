import { checkTest } from '../../../music/schema/index.ts';
import type { PracticeTest } from '../../../music/score.ts';
import { keepTyped, typedBefore } from '../../record/typed.svelte.ts';

/** A phrase that is being looked at and is not kept yet, with what the ear said of it. */
export interface Draft {
  readonly name: string;
  readonly test: PracticeTest;
  readonly doubtful: readonly number[];
  readonly leftOut: number;
  readonly lateMs: number;
  /** Octaves by which a file's part was moved, as the instrument has no such notes. */
  readonly octaves?: number;
}

const NEW = 'phrase';
/** The name under which corrections of a kept phrase outlive the page. */
export const typedName = (keptAs: string | null): string => (keptAs === null ? NEW : `${NEW}.${keptAs}`);

/** The corrections that were not saved under this name; null where there are none, or none that can be read. */
export function unsavedDraft(name: string): Draft | null {
  try {
    const { test, ...rest } = JSON.parse(typedBefore(name) ?? 'null') as Draft;
    const checked = checkTest(test);
    return 'test' in checked && Array.isArray(rest.doubtful) ? { ...rest, test: checked.test } : null;
  } catch {
    return null;
  }
}

let waiting = $state.raw<Draft | null>(null);

/** The draft that `#/phrases/new` shows; it outlives the page until it is saved or another takes its place. */
export const draft = {
  get now(): Draft | null {
    return (waiting ??= unsavedDraft(NEW));
  },
  set(next: Draft | null): void {
    waiting = next;
    keepTyped(NEW, next === null ? '' : JSON.stringify(next));
  },
};
