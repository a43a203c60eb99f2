import fc from 'fast-check';
import { Note, Scale } from 'tonal';
import { STYLE_NAMES } from '../../../src/tests-engine/backing/index.ts';
import { barTicks } from '../../../src/tests-engine/material/index.ts';
import type { Metre, PracticeTest, WrittenNote } from '../../../src/music/score.ts';
import { bpm, midi, sec, ticks } from '../../../src/music/units.ts';

export const METRES: readonly Metre[] = [
  { beats: 4, beatUnit: 4, grouping: [1, 1, 1, 1] },
  { beats: 3, beatUnit: 4, grouping: [1, 1, 1] },
  { beats: 6, beatUnit: 8, grouping: [3, 3] },
  { beats: 12, beatUnit: 8, grouping: [3, 3, 3, 3] },
  { beats: 5, beatUnit: 4, grouping: [3, 2] },
  { beats: 5, beatUnit: 4, grouping: [2, 3] },
  { beats: 7, beatUnit: 8, grouping: [2, 2, 3] },
  { beats: 7, beatUnit: 8, grouping: [3, 2, 2] },
];

export const SCALES = [
  'minor pentatonic',
  'major pentatonic',
  'minor',
  'major',
  'blues',
  'dorian',
  'mixolydian',
  'harmonic minor',
];
export const TONICS = ['A', 'E', 'G', 'C', 'D', 'F', 'Bb', 'F#'];

export const GUITAR = [40, 45, 50, 55, 59, 64].map(midi);
export const BASS = [28, 33, 38, 43].map(midi);

/** A written note on the highest string that has it. */
export function note(
  start: number,
  length: number,
  pitch: number,
  tuning: readonly number[] = GUITAR,
): WrittenNote {
  const index = tuning.findLastIndex((open) => open <= pitch);
  return {
    startTicks: ticks(start),
    durationTicks: ticks(length),
    midi: midi(pitch),
    spelling: Note.fromMidi(pitch),
    string: tuning.length - index,
    fret: pitch - tuning[index]!,
  };
}

/** A in minor pentatonic, two bars of 4/4, crotchets and quavers. */
export const plain: PracticeTest = {
  version: 1,
  kind: 'melody',
  instrument: 'guitar',
  tuning: GUITAR,
  level: 2,
  seed: 7,
  tempoBpm: bpm(90),
  key: { tonic: 'A', scale: 'minor pentatonic' },
  swing: 0.5,
  style: 'rock',
  phrase: {
    metre: METRES[0]!,
    bars: 2,
    notes: [
      note(0, 480, 57),
      note(480, 480, 60),
      note(960, 240, 62),
      note(1200, 720, 60),
      note(1920, 480, 57),
      note(2400, 480, 55),
      note(2880, 960, 57),
    ],
  },
  question: null,
  procedure: { hearings: 2, practiceSec: sec(20) },
};

/** Two bars on the lowest string, with its rival. */
export const plainRhythm: PracticeTest = {
  ...plain,
  kind: 'rhythm',
  key: { tonic: 'E', scale: 'minor pentatonic' },
  phrase: {
    metre: METRES[0]!,
    bars: 2,
    notes: [0, 480, 720, 960, 1440, 1920, 2880].map((t) => note(t, 240, 40)),
  },
  question: {
    answer: 'B',
    other: {
      metre: METRES[0]!,
      bars: 2,
      notes: [0, 480, 960, 1440, 1680, 1920, 2880].map((t) => note(t, 240, 40)),
    },
  },
};

/** Any test that the program could be asked for: every style, metre, scale, with random walks as phrases. */
export const anyTest: fc.Arbitrary<PracticeTest> = fc
  .record({
    metre: fc.constantFrom(...METRES),
    bars: fc.integer({ min: 1, max: 4 }),
    style: fc.constantFrom(...STYLE_NAMES),
    scale: fc.constantFrom(...SCALES),
    tonic: fc.constantFrom(...TONICS),
    instrument: fc.constantFrom('guitar' as const, 'bass' as const),
    kind: fc.constantFrom('melody' as const, 'rhythm' as const),
    tempo: fc.integer({ min: 50, max: 160 }),
    swung: fc.boolean(),
    steps: fc.array(fc.integer({ min: -3, max: 3 }), { minLength: 64, maxLength: 64 }),
    lengths: fc.array(fc.constantFrom(1, 2, 2, 4), { minLength: 64, maxLength: 64 }),
    rests: fc.array(fc.boolean(), { minLength: 64, maxLength: 64 }),
  })
  .map((r) => {
    const low = r.instrument === 'guitar' ? 40 : 28;
    const inScale = Scale.get(`${r.tonic} ${r.scale}`).notes.map((n) => Note.get(n).chroma!);
    const pitches = Array.from({ length: 20 }, (_, i) => low + i).filter((p) => inScale.includes(p % 12));
    const total = r.bars * barTicks(r.metre);
    const line = (skip: number) => {
      const notes: WrittenNote[] = [];
      let at = 0;
      let where = Math.floor(pitches.length / 2);
      for (let i = 0; at < total; i++) {
        const length = Math.min(r.lengths[(i + skip) % 64]! * 120, total - at);
        where = Math.max(0, Math.min(pitches.length - 1, where + r.steps[i % 64]!));
        if (!r.rests[i % 64] || i === 0)
          notes.push(
            note(
              at,
              length,
              r.kind === 'rhythm' ? low : pitches[where]!,
              r.instrument === 'guitar' ? GUITAR : BASS,
            ),
          );
        at += length;
      }
      return { metre: r.metre, bars: r.bars, notes };
    };
    return {
      ...plain,
      kind: r.kind,
      instrument: r.instrument,
      tuning: r.instrument === 'guitar' ? GUITAR : BASS,
      tempoBpm: bpm(r.tempo),
      swing: r.swung && r.metre.beatUnit === 4 ? 2 / 3 : 0.5,
      key: { tonic: r.tonic, scale: r.scale },
      style: r.style,
      phrase: line(0),
      question: r.kind === 'rhythm' ? { answer: 'A', other: line(1) } : null,
    };
  });
