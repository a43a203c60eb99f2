import type {
  ChordSpan,
  Instrument,
  Phrase,
  PracticeTest,
  TestKind,
  WrittenNote,
} from '../../music/score.ts';
import type { Task } from '../../music/task.ts';
import { bpm, midi, sec, ticks } from '../../music/units.ts';
import { ExchangeError } from '../error.ts';

/**
 * A test as nested lists without names: [silence before, length, string, fret, spelling] a note, in ticks;
 * the pitch follows from string and fret.
 */
type PackedNote = [number, number, number, number, string];
type PackedPhrase = [beats: number, beatUnit: number, grouping: number[], bars: number, notes: PackedNote[]];
type Packed = [
  kind: string,
  instrument: string,
  tuning: number[],
  level: number | null,
  seed: number | null,
  tempoBpm: number,
  tonic: string,
  scale: string,
  swing: number,
  style: string,
  phrase: PackedPhrase,
  question: [PackedPhrase, string] | null,
  hearings: number,
  practiceSec: number,
  /** Arranger, then length in ticks and symbol of each chord; absent in a test without chords. */
  backing?: [arranger: number, ...chords: (number | string)[]],
];

function packPhrase({ metre, bars, notes }: Phrase): PackedPhrase {
  let end = 0;
  const packed = notes.map((note): PackedNote => {
    const before = note.startTicks - end;
    end = note.startTicks + note.durationTicks;
    return [before, note.durationTicks, note.string, note.fret, note.spelling];
  });
  return [metre.beats, metre.beatUnit, [...metre.grouping], bars, packed];
}

function unpackPhrase(
  [beats, beatUnit, grouping, bars, notes]: PackedPhrase,
  tuning: readonly number[],
): Phrase {
  let end = 0;
  const unpacked = notes.map(([before, length, string, fret, spelling]): WrittenNote => {
    const startTicks = ticks(end + before);
    end = startTicks + length;
    return {
      startTicks,
      durationTicks: ticks(length),
      midi: midi(tuning[tuning.length - string]! + fret),
      spelling,
      string,
      fret,
    };
  });
  return {
    metre: { beats, beatUnit: beatUnit as Phrase['metre']['beatUnit'], grouping },
    bars,
    notes: unpacked,
  };
}

export function pack(test: PracticeTest): Packed {
  const { question, key, procedure } = test;
  return [
    test.kind,
    test.instrument,
    [...test.tuning],
    test.level,
    test.seed,
    test.tempoBpm,
    key.tonic,
    key.scale,
    test.swing,
    test.style,
    packPhrase(test.phrase),
    question ? [packPhrase(question.other), question.answer] : null,
    procedure.hearings,
    procedure.practiceSec,
    ...(test.backing ? [packBacking(test.backing)] : []),
  ] as unknown as Packed;
}

type Backing = NonNullable<PracticeTest['backing']>;

const packBacking = ({ arranger, chords }: Backing): [number, ...(number | string)[]] => [
  arranger,
  ...chords.flatMap(({ durationTicks, symbol }) => [durationTicks as number, symbol]),
];

function unpackBacking([arranger, ...rest]: NonNullable<Packed[14]>): Backing {
  const chords: ChordSpan[] = [];
  let end = 0;
  for (let i = 0; i < rest.length; i += 2) {
    const length = rest[i] as number;
    chords.push({ startTicks: ticks(end), durationTicks: ticks(length), symbol: rest[i + 1] as string });
    end += length;
  }
  return { arranger: arranger as Backing['arranger'], chords };
}

/**
 * The test of packed lists. What stands in them is taken as it is: whoever reads a link checks the test with
 * `parseTest`, as from any other source. @throws ExchangeError where the lists have another shape.
 */
export function unpack(value: unknown): PracticeTest {
  try {
    const [
      kind,
      instrument,
      tuning,
      level,
      seed,
      tempo,
      tonic,
      scale,
      swing,
      style,
      phrase,
      question,
      hearings,
      practice,
      backing,
    ] = value as Packed;
    return {
      version: 1,
      kind: kind as TestKind,
      instrument: instrument as Instrument,
      tuning: tuning.map(midi),
      level,
      seed,
      tempoBpm: bpm(tempo),
      key: { tonic, scale },
      swing,
      style,
      phrase: unpackPhrase(phrase, tuning),
      question: question
        ? { other: unpackPhrase(question[0], tuning), answer: question[1] as 'A' | 'B' }
        : null,
      ...(backing ? { backing: unpackBacking(backing) } : {}),
      procedure: { hearings, practiceSec: sec(practice) },
    };
  } catch (cause) {
    throw new ExchangeError('link-no-test', {}, { cause });
  }
}

/** An ear test as lists; any other task as it is: names are what a compressor is good at. */
export const packTask = (task: Task): unknown => ('question' in task ? pack(task) : task);

/** What {@link packTask} was given, unchecked. @throws ExchangeError where it is neither lists nor a task */
export function unpackTask(value: unknown): Task {
  if (Array.isArray(value)) return unpack(value);
  if (typeof value === 'object' && value !== null && 'kind' in value) return value as Task;
  throw new ExchangeError('link-no-test');
}
