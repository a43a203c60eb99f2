import type { MetreName } from '../../../music/metre.ts';
import type { LevelMetre, LevelParameters } from './types.ts';

type Revision = Partial<Omit<LevelParameters, 'metres'>> & {
  /** Bars, notes a bar and notes in all, by metre, where they change. */
  readonly notes?: Partial<
    Record<MetreName, Partial<Pick<LevelMetre, 'melodyBars' | 'melodyNotes' | 'melodyLength'>>>
  >;
};

/**
 * What a melody of the upper levels may hold in all: as much as a listener keeps of two hearings when it falls into
 * groups that come again. Short-term memory keeps some seven things (Miller, Psychological Review 63, 1956) or four
 * (Cowan, Behavioral and Brain Sciences 24, 2001), and things are groups of two to four notes when a pattern comes
 * again (Deutsch, Perception & Psychophysics 28, 1980, 381–389: tone sequences that can be encoded in levels are notated
 * with few errors, others of the same length with many more, and pauses between the groups matter much). Of Deutsch the
 * abstract was read, the others and the twelve notes of her sequences are from memory.
 */
const HELD: readonly [number, number] = [12, 20];

/** Keys in the order in which players of both instruments come to them: open strings first. */
const REVISIONS: readonly Revision[] = [
  {
    scales: [
      { scale: 'minor pentatonic', tonics: ['E', 'A', 'D'] },
      { scale: 'major pentatonic', tonics: ['G', 'C', 'D'] },
    ],
    home: { highestFret: 4, percent: 100 },
  },
  {
    scales: [
      { scale: 'minor pentatonic', tonics: ['E', 'A', 'D', 'G'] },
      { scale: 'major pentatonic', tonics: ['G', 'C', 'D', 'A'] },
    ],
    home: { highestFret: 4, percent: 95 },
  },
  {
    scales: [
      { scale: 'minor pentatonic', tonics: ['E', 'A', 'D', 'G', 'B'] },
      { scale: 'major pentatonic', tonics: ['G', 'C', 'D', 'A', 'E'] },
    ],
    home: { highestFret: 5, percent: 90 },
  },
  {
    scales: [
      { scale: 'minor', tonics: ['E', 'A', 'D', 'B', 'G'] },
      { scale: 'major', tonics: ['G', 'C', 'D', 'A', 'F'] },
    ],
    home: { highestFret: 5, percent: 90 },
  },
  { home: { highestFret: 7, percent: 70 } },
  {
    home: { highestFret: 8, percent: 60 },
    notes: {
      '6/8': { melodyNotes: [3, 7], melodyLength: [7, 18] },
      '12/8': { melodyNotes: [3, 10], melodyLength: [7, 18] },
    },
  },
  { melodyBand: [47, 51.5] },
  {
    notes: {
      '4/4': { melodyNotes: [3, 5], melodyLength: HELD },
      '6/8': { melodyNotes: [3, 7], melodyLength: HELD },
    },
    melodyBand: [51.5, 57.5],
  },
  {
    notes: {
      '5/4': { melodyBars: 2, melodyNotes: [6, 11], melodyLength: HELD },
      '7/8': { melodyNotes: [3, 5], melodyLength: HELD },
    },
    melodyBand: [57.5, 63],
  },
  {
    notes: {
      '4/4': { melodyBars: 2, melodyNotes: [7, 12], melodyLength: HELD },
      '5/4': { melodyBars: 2, melodyNotes: [7, 12], melodyLength: HELD },
      '7/8': { melodyNotes: [3, 5], melodyLength: HELD },
    },
    melodyBand: [63, 78],
  },
];

/** A level of the first ladder as it stands now: lower frets and nearer keys first, lengths that can be kept. */
export function revised(level: LevelParameters, index: number): LevelParameters {
  const { notes = {}, ...changes } = REVISIONS[index]!;
  return {
    ...level,
    ...changes,
    metres: level.metres.map((at) => ({ ...at, ...notes[at.metre] })),
  };
}
