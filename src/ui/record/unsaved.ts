import type { NewAttempt } from '../../store/index.ts';
import type { Marked } from '../session/types.ts';

/** A finished take that is not in the record yet. */
export interface Unsaved {
  /** Its id in the record, given beforehand: written late, or restored from a file, it is the same attempt. */
  readonly id: string;
  readonly atMs: number;
  readonly draftId: string | null;
  /** Null where the record could not say who plays, or that student has been deleted. */
  readonly studentId: string | null;
  readonly attempt: Omit<NewAttempt, 'studentId'>;
  readonly marked: Marked;
  /** It does not fit the record and never will; it can only be saved as a file. */
  readonly never: boolean;
}

/** What became of one try: written, not now, or never. */
export type Tried<W> = { readonly written: W } | 'not-now' | 'no-student' | 'never';

/**
 * Tries each take by itself, oldest first: one that cannot be written holds up no other.
 * @returns those left, with what was learnt of them
 */
export async function tryEach<U extends Pick<Unsaved, 'never' | 'studentId'>, W>(
  all: readonly U[],
  write: (one: U) => Promise<Tried<W>>,
  onWritten: (one: U, written: W) => void,
): Promise<readonly U[]> {
  const left: U[] = [];
  for (const one of all) {
    if (one.never) {
      left.push(one);
      continue;
    }
    const tried = await write(one);
    if (tried === 'never') left.push({ ...one, never: true });
    else if (tried === 'no-student') left.push({ ...one, studentId: null });
    else if (tried === 'not-now') left.push(one);
    else onWritten(one, tried.written);
  }
  return left;
}

/** How often each help was used. */
export function countHelp<K extends string>(kinds: readonly K[]): Partial<Record<K, number>> {
  const times: Partial<Record<K, number>> = {};
  for (const kind of kinds) times[kind] = (times[kind] ?? 0) + 1;
  return times;
}
