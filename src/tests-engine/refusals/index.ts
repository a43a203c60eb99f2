/** Why a test, code or list is refused: one English sentence each, with a remedy. The app has them in every language. */
export const REFUSALS = {
  'test-newer': 'This test was made by a newer Twobar: {wrong}; update Twobar or ask for an older export.',
  'test-unread':
    'This is not a test Twobar can read: {wrong}; make the test again or ask its sender for a fresh copy.',

  'code-length': 'A code has {length} letters and digits, such as 1M3-00000KF-W; look at yours again.',
  'code-mistyped': 'This code has a typing mistake: its last letter does not fit; look at it again.',
  'code-newer':
    'This code was made by a newer Twobar; update Twobar, or ask for a link or file of the test instead.',
  'code-unknown': 'This code names no test of any level; look at it again.',

  'scales-empty': 'This table is empty: its first line names the columns, such as key, kind, octaves.',
  'scales-column': 'This table has a column "{column}"; known are {known}.',
  'scales-no-column': 'This table has no column "{column}"; add it.',
  'scales-lines': 'This table has {lines} lines, at most {most} are read; split it.',
  'scales-yes': 'Line {line}: {column} is "{found}", it may be yes or no.',
  'scales-key': 'Line {line}: key is "{found}"; it may be a letter with # or b, such as F# or Eb.',
  'scales-kind': 'Line {line}: kind is "{found}"; it may be {known}.',
  'scales-octaves': 'Line {line}: octaves is "{found}"; it may be 1 to 3.',
  'scales-string': 'Line {line}: string is "{found}"; it may be empty or a string, 1 for the highest.',
  'scales-position': 'Line {line}: position is "{found}"; it may be empty or a fret, 1 to 20.',
  'scales-direction': 'Line {line}: direction is "{found}"; it may be {known}.',
  'scales-values': 'Line {line}: values is "{found}"; it may be {known}.',
  'scales-tempo':
    'Line {line}: tempo is "{found}"; it may be {slowest} to {fastest}, or two tempos such as 60-80, the slower first.',
  'scales-swung': 'Line {line}: swung is "{found}"; it may be yes where the values are quavers, or no.',

  'chords-empty': 'This table is empty: its first line names the columns chord and shape.',
  'chords-column': 'This table has a column "{column}"; known are chord and shape.',
  'chords-no-column': 'This table has no column "chord"; add it.',
  'chords-lines': 'This table has {lines} lines, at most {most} are read; split it.',
  'chord-name': '"{found}" is no chord name; write it as C, F#m7 or D/F#.',
  'chord-name-in': 'Line {line}: "{found}" is no chord name; write it as C, F#m7 or D/F#.',
  'chord-shape':
    '"{found}" is no shape; write six frets from the lowest string, x for one not struck, as x32010.',
  'chord-shape-in':
    'Line {line}: "{found}" is no shape; write six frets from the lowest string, x for one not struck, as x32010.',
  'chord-unlike': 'The shape {shape} does not hold {chord}; mend it, or leave it empty for any shape.',
  'chord-unlike-in':
    'Line {line}: the shape {shape} does not hold {chord}; mend it, or leave it empty for any shape.',
} as const;

export type RefusalCode = keyof typeof REFUSALS;
type CodesOf<Start extends string> = Extract<RefusalCode, `${Start}-${string}`>;
/** The sentences whose codes begin with a word. */
export type RefusalsOf<Start extends string> = Pick<typeof REFUSALS, CodesOf<Start>>;
