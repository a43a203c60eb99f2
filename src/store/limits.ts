/**
 * How much a backup, results or homework may hold, so that what is refused costs little: the README of exchange has
 * them in one table with what is said.
 */
export const MOST = {
  /**
   * Bytes of JSON for each packed byte; less than `freeBytes` may be packed as tightly as it will. Records of real
   * practice pack to a tenth.
   */
  ratio: 20,
  freeBytes: 2 ** 22,
  /** 1 GiB of JSON is 200,000 attempts. */
  backupBytes: 2 ** 30,
  /** A block is 250 attempts, some 1 MB. */
  blockBytes: 2 ** 24,
  /** A term of one homework is a few hundred attempts of 5 kB. */
  resultsBytes: 2 ** 24,
  /** Links of before they were packed together: a hundred codes. */
  homeworkBytes: 2 ** 21,
  /** How deep JSON may be nested; a record goes eight deep. */
  depth: 32,
  /** Lists and objects: so many in any file, and one more for so many bytes. A note of a take is 110 bytes. */
  freeContainers: 20_000,
  bytesPerContainer: 24,
  /** Rows of a table: forty students for a lifetime. The app itself keeps a dozen settings. */
  rows: {
    students: 10_000,
    attempts: 250_000,
    overrides: 250_000,
    lessonNotes: 250_000,
    homework: 50_000,
    blindMarks: 250_000,
    settings: 500,
    sittings: 50_000,
  },
  /** Saved takes, and packed blocks. */
  attachments: 100_000,
} as const;
