/**
 * How much a door reads, whatever it was given: bytes and counts. What is said beyond each stands in the README. All
 * lie far above what a test, a phrase or homework needs, and low enough that a refusal costs less than 5 s and 300 MB.
 */
export const MOST = {
  /** Signs of one test's code: sixteen full bars with chords make some 3,000; a browser takes far longer addresses. */
  codeSigns: 20_000,
  /** A test as JSON: twice 384 notes and their chords are 20 kB. */
  codeBytes: 2 ** 16,
  /** A list's code: a hundred long tests. */
  listSigns: 2_000_000,
  listTests: 100,
  listBytes: 100 * 2 ** 16,
  /** A phrase of sixteen bars is some 100 kB, packed or not. */
  xmlBytes: 2 ** 22,
  /** A note takes a dozen elements: 384 notes are 5,000. */
  xmlElements: 150_000,
  /** MusicXML goes nine deep. */
  xmlDepth: 64,
  /** A score, its container, a picture or two. */
  zipEntries: 1000,
  /** A phrase of sixteen bars is some 5 kB; more is a whole piece. */
  midiBytes: 2 ** 20,
} as const;
