import { UsageError } from './io.ts';

/** What the system says, in words that fit what was tried. */
const REASONS: Readonly<Record<'reading' | 'writing', Readonly<Record<string, string>>>> = {
  reading: {
    ENOENT: 'there is no such file',
    EISDIR: 'it is a folder',
    ENXIO: 'there is nothing to read from it',
  },
  writing: {
    ENOENT: 'there is no such folder',
    EISDIR: 'it is a folder',
    EROFS: 'nothing can be written there',
    ENOSPC: 'the disk is full',
    EDQUOT: 'your share of the disk is full',
    EFBIG: 'the disk takes no file of this size',
  },
};
const EITHER: Readonly<Record<string, string>> = {
  ENOTDIR: 'there is no such folder',
  ENAMETOOLONG: 'the name is too long',
  ELOOP: 'its links lead in a circle',
  EIO: 'the disk failed; try another',
  EMFILE: 'too many files are open',
};
/** What stands for bytes of a name that are no UTF-8: such a name never reaches this program whole. */
const NO_UTF8 = '�';

/** What went wrong with a file, or with a standard stream, as the caller's mistake in one sentence. */
export function because(doing: 'reading' | 'writing', what: string, error: unknown): UsageError {
  const { code = '', message } = error as NodeJS.ErrnoException;
  const denied = code === 'EACCES' || code === 'EPERM' ? `${doing} it is not permitted` : null;
  const unnamed = code === 'ENOENT' && what.includes(NO_UTF8) ? 'its name is not UTF-8; rename it' : null;
  const why = denied ?? unnamed ?? REASONS[doing][code] ?? EITHER[code] ?? message;
  return new UsageError(`${what}: ${why}`, { cause: error });
}
