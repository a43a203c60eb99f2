import type { Mark } from '../tests-engine/marks/types.ts';
import type { Attempt, Override } from './types.ts';

/** The newest override, or null. Ties on `order` (two machines) go to the greater id: the same everywhere. */
export function newestOverride(overrides: readonly Override[]): Override | null {
  return overrides.reduce<Override | null>(
    (newest, one) =>
      newest === null || one.order > newest.order || (one.order === newest.order && one.id > newest.id)
        ? one
        : newest,
    null,
  );
}

/** Overrides by the attempt that they are of, each list in the given order. */
export function byAttempt(overrides: readonly Override[]): Map<string, Override[]> {
  const found = new Map<string, Override[]>();
  for (const one of overrides) {
    const list = found.get(one.attemptId);
    if (list) list.push(one);
    else found.set(one.attemptId, [one]);
  }
  return found;
}

/**
 * The mark that counts: the machine's, with the teacher's newest override laid over it. The attempt
 * itself is not changed. A mark given by the teacher has no range and its outcome follows from the
 * thresholds of the attempt; with verdicts alone overridden the number stays the machine's.
 */
export function effectiveMark(attempt: Attempt, overrides: readonly Override[]): Mark {
  const override = newestOverride(overrides);
  if (override === null) return attempt.mark;
  const kinds = new Map(override.verdicts.map(({ index, kind }) => [index, kind]));
  const verdicts = attempt.mark.verdicts.map((verdict, index) => {
    const kind = kinds.get(index);
    return kind === undefined ? verdict : { ...verdict, kind, unclear: false };
  });
  if (override.mark === null) return { ...attempt.mark, verdicts };
  const { there, close } = attempt.thresholds;
  const outcome = override.mark >= there ? 'there' : override.mark >= close ? 'close' : 'not-yet';
  return { ...attempt.mark, verdicts, mark: override.mark, reason: null, range: null, outcome };
}
