import { lately } from './estimate.ts';
import { noKnowledge, takeIn } from './knowledge.ts';
import type { Knowledge } from './knowledge.ts';
import type { EarPractised, Practised } from './types.ts';

const alike = (a: readonly number[], b: readonly number[]): boolean =>
  a.length === b.length && a.every((one, i) => one === b[i]);

/** Do two digests say the same of all that knowledge is made from? An override changes one in its place. */
const same = (a: Practised, b: Practised): boolean =>
  a === b ||
  (a.id === b.id &&
    a.atMs === b.atMs &&
    a.order === b.order &&
    a.kind === b.kind &&
    a.level === b.level &&
    a.outcome === b.outcome &&
    alike(a.pitch, b.pitch) &&
    alike(a.time, b.time));

/**
 * `know` for a record that grows: where the record asked about goes on from the one before, only what is new
 * is taken in; otherwise (another student, an override, a window moved on) all is replayed. The answer is that
 * of `know` to the last bit, and holds until the next call.
 */
export function follower(): (
  record: readonly Practised[],
  manner: Practised['manner'],
  there: number,
) => Knowledge {
  let applied: readonly EarPractised[] = [];
  let knowledge: Knowledge | null = null;
  return (record, manner, there) => {
    const attempts = lately(record, manner);
    const goesOn =
      knowledge !== null &&
      knowledge.manner === manner &&
      knowledge.there === there &&
      applied.length <= attempts.length &&
      applied.every((one, i) => same(one, attempts[i]!));
    const kept = goesOn && knowledge !== null ? knowledge : noKnowledge(manner, there);
    for (const attempt of attempts.slice(goesOn ? applied.length : 0)) takeIn(kept, attempt);
    [applied, knowledge] = [attempts, kept];
    return kept;
  };
}
