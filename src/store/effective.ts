import { heldBack, isRight } from '../music/question.ts';
import type { AnyMark, ChordVerdict, VerdictKind } from '../tests-engine/index.ts';
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
 * thresholds of the attempt; with verdicts alone overridden the number stays the machine's. Where the question
 * counts, a wrong answer holds either outcome back.
 */
export function effectiveMark(attempt: Attempt, overrides: readonly Override[]): AnyMark {
  const mark = withOverride(attempt, newestOverride(overrides));
  return answeredWrong(attempt) ? heldBack(mark) : mark;
}

const answeredWrong = ({ answer, answerCounts, test }: Attempt): boolean =>
  answerCounts === true && answer !== null && 'question' in test && isRight(test, answer) === false;

function withOverride(attempt: Attempt, override: Override | null): AnyMark {
  if (override === null) return attempt.mark;
  const mark = overlaid(attempt.mark, override);
  if (override.mark === null) return mark;
  const { there, close } = attempt.thresholds;
  const outcome = override.mark >= there ? 'there' : override.mark >= close ? 'close' : 'not-yet';
  return { ...mark, mark: override.mark, reason: null, range: null, outcome };
}

/** What a teacher could change one by one; none where the machine gave no verdicts. */
export const verdictsOf = ({ mark }: Attempt): readonly unknown[] =>
  'verdicts' in mark ? mark.verdicts : [];

/** The mark with the verdicts of an override in place of its own. A kind that the mark does not know changes nothing. */
function overlaid(mark: AnyMark, { verdicts }: Override): AnyMark {
  const kinds = new Map(verdicts.map(({ index, kind }) => [index, kind]));
  if (mark.type === 'described' || mark.type === 'teacher') return mark;
  if (mark.type === 'chords')
    return {
      ...mark,
      verdicts: mark.verdicts.map((verdict, index) => {
        const kind = kinds.get(index);
        if (kind === undefined || kind === verdict.kind || !isOfChords(kind)) return verdict;
        // What the machine heard of it no longer counts; when it came does.
        return { ...verdict, kind, missing: [], foreign: [], bass: null, byHand: true as const };
      }),
    };
  return {
    ...mark,
    verdicts: mark.verdicts.map((verdict, index) => {
      const kind = kinds.get(index);
      return kind !== undefined && isOfNotes(kind) ? { ...verdict, kind, unclear: false } : verdict;
    }),
  };
}

type Kind = Override['verdicts'][number]['kind'];
const CHORD_KINDS: readonly Kind[] = ['yes', 'no', 'unsure', 'missed', 'extra'];
const isOfChords = (kind: Kind): kind is ChordVerdict['kind'] => CHORD_KINDS.includes(kind);
const NOTE_KINDS: readonly Kind[] = ['right', 'wrong', 'early', 'late', 'missed', 'extra'];
const isOfNotes = (kind: Kind): kind is VerdictKind => NOTE_KINDS.includes(kind);
