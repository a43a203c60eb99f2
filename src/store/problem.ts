/** What can stand in the way of storing; each code has a text and a remedy in `ui/messages.ts`. */
export type StoreProblemCode =
  | 'quota' // the disk or the browser's share of it is full
  | 'disk' // the disk failed the browser, mostly because it is full: the record opens again once there is room
  | 'blocked' // another tab holds an older version open
  | 'closed' // another tab updated the database, or the browser closed it; reload
  | 'evicted' // there was a database here and the browser has removed it
  | 'unavailable' // no IndexedDB: private window, blocked by policy, or a broken profile
  | 'newer-version' // written by a newer app than this one
  | 'slow' // it did not open in time; it is tried again
  | 'missing' // the record named is not here (deleted in another tab, perhaps)
  | 'failed'; // anything else; `cause` has it

/** A file or link that was refused. Nothing has been changed. */
export type ImportProblemCode =
  | 'not-ours' // not a file of this app
  | 'truncated'
  | 'corrupt' // checksum or compression does not fit
  | 'newer-version'
  | 'invalid' // intact, but holds what cannot be
  | 'too-big'
  | 'wrong-kind' // a results file where a backup was expected, or the other way about
  | 'unknown-homework'; // results of homework that was not set here: choose the student

export class StoreProblem extends Error {
  readonly code: StoreProblemCode;
  constructor(code: StoreProblemCode, message: string, cause?: unknown) {
    super(message, { cause });
    this.name = 'StoreProblem';
    this.code = code;
  }
}

export class ImportProblem extends Error {
  readonly code: ImportProblemCode;
  constructor(code: ImportProblemCode, message: string, cause?: unknown) {
    super(message, { cause });
    this.name = 'ImportProblem';
    this.code = code;
  }
}

const BY_NAME: Readonly<Record<string, StoreProblemCode>> = {
  QuotaExceededError: 'quota',
  VersionError: 'newer-version',
  DatabaseClosedError: 'closed',
  MissingAPIError: 'unavailable',
  InvalidStateError: 'closed',
  SecurityError: 'unavailable',
  UnknownError: 'unavailable',
};

/** Chromium has no name of its own for a disk that failed it (UnknownError), but these words. */
const OF_THE_DISK = /IO error|NO_SPACE|backing store|internal error/i;

/**
 * Any error of Dexie or IndexedDB as one of ours. Dexie wraps: the telling name may be on `inner`, on
 * `cause`, or on the first of `failures`, so the whole chain is searched, innermost name first wins.
 */
export function toStoreProblem(error: unknown): StoreProblem {
  if (error instanceof StoreProblem) return error;
  let code: StoreProblemCode = 'failed';
  let at: unknown = error;
  for (let depth = 0; depth < 8 && typeof at === 'object' && at !== null; depth++) {
    const link = at as {
      name?: unknown;
      message?: unknown;
      inner?: unknown;
      cause?: unknown;
      failures?: unknown;
    };
    const named = typeof link.name === 'string' ? BY_NAME[link.name] : undefined;
    if (named) code = named;
    if (typeof link.message === 'string' && OF_THE_DISK.test(link.message)) code = 'disk';
    at = link.inner ?? link.cause ?? (Array.isArray(link.failures) ? link.failures[0] : undefined);
  }
  const message = error instanceof Error ? error.message : String(error);
  return new StoreProblem(code, message, error);
}

/** Runs a storage job; what it throws comes out as `StoreProblem` (an `ImportProblem` passes as it is). */
export async function asStoreProblem<T>(job: () => PromiseLike<T>): Promise<T> {
  try {
    return await job();
  } catch (error) {
    if (error instanceof ImportProblem || error instanceof RangeError || error instanceof TypeError)
      throw error;
    throw toStoreProblem(error);
  }
}
