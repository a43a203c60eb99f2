import { written, type Task } from '../../music/task.ts';
import { canHalve, handlerOf, MARKER_VERSION, SLOWEST } from '../../tests-engine/index.ts';
import type { AnyMark } from '../../tests-engine/index.ts';
import type { Attempt, Doubt } from '../../store/index.ts';
import { markAgain } from './remark.ts';

/** Marks are told to a tenth. */
const SAME_MARK = 0.05;
/** How far another version of the rule may lie from ours; what differs more is shown and left to the teacher. */
const OTHER_VERSION = 20;

/**
 * Whether an attempt that came in as homework can be what it says. The mark is made anew from its notes and its test;
 * the test must be one that was set, with help slower or a half of it. What is not known: who played the notes, and
 * whether anybody did.
 * @param set the tests of the homework; null where this machine did not set it
 */
export function doubt(attempt: Attempt, set: readonly Task[] | null): Doubt | null {
  if (set && !set.some((test) => isOf(test, attempt))) return 'not-set';
  const { mark } = attempt;
  const again = markAgain(attempt);
  const most = mark.version === MARKER_VERSION ? SAME_MARK : OTHER_VERSION;
  if ((mark.mark === null) !== (again.mark === null)) return 'other-mark';
  if (Math.abs((mark.mark ?? 0) - (again.mark ?? 0)) > most) return 'other-mark';
  if (mark.version !== MARKER_VERSION) return null;
  const [said, found] = [kindsOf(mark), kindsOf(again)];
  const same = mark.outcome === again.outcome && mark.type === again.type && said === found;
  return same ? null : 'other-mark';
}

/** What became of each note or chord, in order; nothing where the mark tells none. */
const kindsOf = (mark: AnyMark): string =>
  'verdicts' in mark ? mark.verdicts.map(({ kind }) => kind).join() : '';

/** Whether this take is of a set test as it was set or, with help, at another tempo or of a half. */
function isOf(set: Task, { test, manner }: Attempt): boolean {
  const same = (one: Task): boolean => JSON.stringify(one) === JSON.stringify(test);
  if (same(set)) return true;
  const factor = test.tempoBpm / set.tempoBpm;
  if (manner === 'strict' || factor < SLOWEST - 1e-9 || factor > 1.5) return false;
  return ([null, 'first', 'second'] as const).some((half) => {
    const notes = written(set);
    if (half !== null && !(notes && canHalve(notes.phrase))) return false;
    return same({ ...handlerOf(set).sounded(set, { half }), tempoBpm: test.tempoBpm });
  });
}
