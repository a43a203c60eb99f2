import type { LevelParameters } from './types.ts';

const PENTATONICS = [
  { scale: 'minor pentatonic', tonics: ['A', 'E', 'D', 'G'] },
  { scale: 'major pentatonic', tonics: ['G', 'C', 'A', 'D'] },
] as const;

/**
 * The ladder. Level N is `LEVELS[N - 1]`. It follows no syllabus: each step adds one thing to hear and one
 * thing to do, and its `reason` says why then.
 */
export const LEVELS: readonly LevelParameters[] = [
  {
    name: 'five notes, crotchets and minims',
    reason:
      'five notes from the tonic up under one hand, every note on a beat: pitch direction is all there is to find',
    scales: PENTATONICS,
    ranges: [[0, 10]],
    positions: [1, 7],
    maxLeap: 5,
    leapsPerBar: 0.5,
    maxStringCross: 1,
    firstDegrees: [1],
    lastDegrees: [1],
    approachNotes: 0,
    melodyFigures: ['crotchet', 'minim'],
    rhythmFigures: ['crotchet', 'minim', 'quavers'],
    metres: [{ metre: '4/4', melodyBars: 2, styles: ['rock', 'ballad'] }],
    tempo: [66, 76, 2],
    swing: [0.5],
    notesPerBar: [2, 6],
    practicePhrases: 4,
    question: { leastTicks: 240, moves: 1 },
    melodyBand: null,
    rhythmBand: null,
  },
  {
    name: 'an octave, quavers',
    reason: 'the same scales through a whole octave, and pairs of quavers: the beat divides in two',
    scales: PENTATONICS,
    ranges: [[0, 12]],
    positions: [1, 9],
    maxLeap: 5,
    leapsPerBar: 0.5,
    maxStringCross: 1,
    firstDegrees: [1, 5],
    lastDegrees: [1],
    approachNotes: 0,
    melodyFigures: ['crotchet', 'minim', 'quavers'],
    rhythmFigures: ['crotchet', 'minim', 'quavers', 'crotchet-rest'],
    metres: [{ metre: '4/4', melodyBars: 2, styles: ['rock', 'ballad', 'reggae'] }],
    tempo: [70, 82, 2],
    swing: [0.5],
    notesPerBar: [3, 7],
    practicePhrases: 4,
    question: { leastTicks: 240, moves: 1 },
    melodyBand: null,
    rhythmBand: null,
  },
  {
    name: 'rests and dots, notes under the tonic',
    reason:
      'silence has to be counted, a dot moves one note off the beat, and the tonic is no longer the lowest note',
    scales: PENTATONICS,
    ranges: [
      [-5, 9],
      [0, 12],
    ],
    positions: [1, 9],
    maxLeap: 7,
    leapsPerBar: 0.5,
    maxStringCross: 2,
    firstDegrees: [1, 3, 5],
    lastDegrees: [1],
    approachNotes: 0,
    melodyFigures: ['crotchet', 'minim', 'quavers', 'crotchet-rest', 'rest-quaver', 'dotted'],
    rhythmFigures: ['crotchet', 'quavers', 'crotchet-rest', 'rest-quaver', 'quaver-rest', 'dotted'],
    metres: [{ metre: '4/4', melodyBars: 2, styles: ['rock', 'ballad', 'reggae', 'funk'] }],
    tempo: [72, 88, 2],
    swing: [0.5],
    notesPerBar: [3, 7],
    practicePhrases: 3.5,
    question: { leastTicks: 240, moves: 1 },
    melodyBand: null,
    rhythmBand: null,
  },
];
