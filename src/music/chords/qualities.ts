/** A kind of chord, whatever its root. */
export interface Quality {
  readonly id: QualityId;
  /** What stands behind the root: "m7" in "Am7"; nothing for a major triad. */
  readonly suffix: string;
  /** Other ways in which it is written and read. */
  readonly aliases: readonly string[];
  /** Semitones above the root, root first, in thirds (a second, fourth or sixth where it has one instead). */
  readonly intervals: readonly number[];
  /** Letters above the root for each interval: 2 is a third, 6 a seventh; says how the tone is spelled. */
  readonly letters: readonly number[];
}

export type QualityId =
  | 'major'
  | 'minor'
  | 'diminished'
  | 'augmented'
  | 'fifth'
  | 'suspended second'
  | 'suspended fourth'
  | 'sixth'
  | 'minor sixth'
  | 'dominant seventh'
  | 'major seventh'
  | 'minor seventh'
  | 'minor major seventh'
  | 'half-diminished'
  | 'diminished seventh'
  | 'suspended seventh'
  | 'added ninth'
  | 'dominant ninth'
  | 'minor ninth'
  | 'major ninth';

/** Every kind of chord there is a name for, triads first. Suffixes: the usual ones of printed charts. */
export const QUALITIES: readonly Quality[] = [
  { id: 'major', suffix: '', aliases: ['maj', 'M'], intervals: [0, 4, 7], letters: [0, 2, 4] },
  { id: 'minor', suffix: 'm', aliases: ['min', '-'], intervals: [0, 3, 7], letters: [0, 2, 4] },
  { id: 'diminished', suffix: 'dim', aliases: ['°', 'o'], intervals: [0, 3, 6], letters: [0, 2, 4] },
  { id: 'augmented', suffix: 'aug', aliases: ['+'], intervals: [0, 4, 8], letters: [0, 2, 4] },
  { id: 'fifth', suffix: '5', aliases: [], intervals: [0, 7], letters: [0, 4] },
  { id: 'suspended second', suffix: 'sus2', aliases: [], intervals: [0, 2, 7], letters: [0, 1, 4] },
  { id: 'suspended fourth', suffix: 'sus4', aliases: ['sus'], intervals: [0, 5, 7], letters: [0, 3, 4] },
  { id: 'sixth', suffix: '6', aliases: ['add6'], intervals: [0, 4, 7, 9], letters: [0, 2, 4, 5] },
  { id: 'minor sixth', suffix: 'm6', aliases: ['-6'], intervals: [0, 3, 7, 9], letters: [0, 2, 4, 5] },
  { id: 'dominant seventh', suffix: '7', aliases: ['dom'], intervals: [0, 4, 7, 10], letters: [0, 2, 4, 6] },
  {
    id: 'major seventh',
    suffix: 'maj7',
    aliases: ['M7', 'Δ', 'ma7', 'Maj7'],
    intervals: [0, 4, 7, 11],
    letters: [0, 2, 4, 6],
  },
  {
    id: 'minor seventh',
    suffix: 'm7',
    aliases: ['-7', 'min7', 'mi7'],
    intervals: [0, 3, 7, 10],
    letters: [0, 2, 4, 6],
  },
  {
    id: 'minor major seventh',
    suffix: 'm(maj7)',
    aliases: ['mMaj7', 'mM7', 'm/maj7'],
    intervals: [0, 3, 7, 11],
    letters: [0, 2, 4, 6],
  },
  {
    id: 'half-diminished',
    suffix: 'm7b5',
    aliases: ['ø', 'ø7', '-7b5'],
    intervals: [0, 3, 6, 10],
    letters: [0, 2, 4, 6],
  },
  {
    id: 'diminished seventh',
    suffix: 'dim7',
    aliases: ['°7', 'o7'],
    intervals: [0, 3, 6, 9],
    letters: [0, 2, 4, 6],
  },
  {
    id: 'suspended seventh',
    suffix: '7sus4',
    aliases: ['7sus'],
    intervals: [0, 5, 7, 10],
    letters: [0, 3, 4, 6],
  },
  { id: 'added ninth', suffix: 'add9', aliases: ['add2'], intervals: [0, 4, 7, 14], letters: [0, 2, 4, 8] },
  {
    id: 'dominant ninth',
    suffix: '9',
    aliases: [],
    intervals: [0, 4, 7, 10, 14],
    letters: [0, 2, 4, 6, 8],
  },
  {
    id: 'minor ninth',
    suffix: 'm9',
    aliases: ['-9'],
    intervals: [0, 3, 7, 10, 14],
    letters: [0, 2, 4, 6, 8],
  },
  {
    id: 'major ninth',
    suffix: 'maj9',
    aliases: ['M9', 'Δ9'],
    intervals: [0, 4, 7, 11, 14],
    letters: [0, 2, 4, 6, 8],
  },
];

const byId = new Map(QUALITIES.map((quality) => [quality.id, quality]));

/** The quality of this name. */
export const quality = (id: QualityId): Quality => byId.get(id)!;

/** The quality with exactly these semitones above the root (in any order and octave), or null. */
export function qualityOf(intervals: readonly number[]): Quality | null {
  const wanted = [...new Set(intervals.map((i) => ((i % 12) + 12) % 12))].sort((a, b) => a - b).join();
  return (
    QUALITIES.find(
      (q) =>
        q.intervals
          .map((i) => i % 12)
          .sort((a, b) => a - b)
          .join() === wanted,
    ) ?? null
  );
}
