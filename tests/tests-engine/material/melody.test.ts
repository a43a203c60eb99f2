import { Note, Scale } from 'tonal';
import { describe, expect, it } from 'vitest';
import type { PracticeTest } from '../../../src/music/score.ts';
import {
  LEVELS,
  type LevelParameters,
  barTicks,
  makeTest,
  parseTest,
} from '../../../src/tests-engine/material/index.ts';

const SEEDS = 10_000;
const make = (level: number, seed: number): PracticeTest =>
  makeTest({ kind: 'melody', level, seed, instrument: seed % 2 === 0 ? 'guitar' : 'bass' });

/** Scale notes as pitch classes, straight from tonal. */
const scaleCache = new Map<string, { tonic: number; pcs: Set<number> }>();
function scaleOf({ tonic, scale }: PracticeTest['key']) {
  const name = `${tonic} ${scale}`;
  let found = scaleCache.get(name);
  if (!found) {
    const pcs = new Set(Scale.get(name).notes.map((note) => Note.chroma(note)!));
    scaleCache.set(name, (found = { tonic: Note.chroma(tonic)!, pcs }));
  }
  return found;
}

const spelled = new Map<string, number>();
const midiOf = (spelling: string): number => {
  let value = spelled.get(spelling);
  if (value === undefined) spelled.set(spelling, (value = Note.midi(spelling)!));
  return value;
};

/** What tells each scale from the others, as any theory text says it: written here again, apart from the generator. */
const COLOUR: Record<string, number[]> = {
  blues: [6],
  'harmonic minor': [11],
  dorian: [9],
  mixolydian: [10],
  minor: [8],
  major: [11],
  'minor pentatonic': [3],
  'major pentatonic': [4],
};

const mod12 = (n: number): number => ((n % 12) + 12) % 12;

/** Everything a melody of a level promises; the names of what it breaks. Written apart from the generator. */
export function broken(test: PracticeTest, level: LevelParameters): string[] {
  const bad: string[] = [];
  const say = (holds: boolean, what: string): void => {
    if (!holds) bad.push(what);
  };
  const { notes, metre, bars } = test.phrase;
  const pitches = notes.map((note) => note.midi as number);
  const bar = barTicks(metre);
  const last = notes.at(-1)!;

  say(notes[0]!.startTicks === 0, 'begins on the first beat');
  say(last.startTicks + last.durationTicks === bar * bars, 'ends exactly at the last bar line');
  let free = 0;
  for (const note of notes) {
    say(note.startTicks >= free && note.durationTicks > 0, 'notes in order, none overlapping');
    free = note.startTicks + note.durationTicks;
    say(
      note.midi === test.tuning[test.tuning.length - note.string]! + note.fret,
      'string and fret sound the note',
    );
    say(midiOf(note.spelling) === note.midi, 'spelled as it sounds');
  }

  const fretted = notes.map((note) => note.fret).filter((fret) => fret > 0);
  const open = fretted.length < notes.length;
  say(Math.max(...fretted) - Math.min(...fretted) <= 3, 'one hand position of four frets');
  say(!open || Math.max(...fretted) <= 4, 'open strings only in the open position');

  const { tonic, pcs } = scaleOf(test.key);
  const degrees = { 1: 0, 3: pcs.has(mod12(tonic + 4)) ? 4 : 3, 5: 7 };
  const isDegree = (pitch: number, allowed: readonly (1 | 3 | 5)[]): boolean =>
    allowed.some((degree) => degrees[degree] === mod12(pitch - tonic));
  say(isDegree(pitches[0]!, level.firstDegrees), 'stated first note');
  say(isDegree(pitches.at(-1)!, level.lastDegrees), 'ends where the ear rests');
  const entry = level.scales.find(({ scale }) => scale === test.key.scale);
  say(Boolean(entry?.tonics.includes(test.key.tonic)), 'key of the level');
  let foreign = 0;
  pitches.forEach((pitch, i) => {
    if (pcs.has(pitch % 12)) return;
    foreign++;
    say(
      i + 1 < pitches.length && Math.abs(pitches[i + 1]! - pitch) === 1,
      'approach notes lead a semitone on',
    );
    // E, F, B and C are written as themselves, not as F flat, E sharp, C flat, B sharp.
    const plain = /^[EFBC]-?\d$/.test(notes[i]!.spelling);
    say(
      plain || notes[i]!.spelling[0] !== notes[i + 1]?.spelling[0],
      'approach notes are spelled as a minor second',
    );
    say(!/^(Fb|Cb|E#|B#)/.test(notes[i]!.spelling), 'no F flat');
  });
  say(foreign <= level.approachNotes, 'notes of the scale');
  const colour = COLOUR[test.key.scale]!;
  say(
    pitches.some((pitch) => colour.includes(mod12(pitch - tonic))),
    'the note that makes the scale',
  );
  const high = Math.max(...pitches);
  const low = Math.min(...pitches);
  const inRange = level.ranges.some(([from, to]) =>
    [-1, 0, 1].some((octave) => {
      const home = tonic + 12 * (Math.floor((low - from - tonic) / 12) + octave);
      const slack = level.approachNotes > 0 ? 1 : 0;
      return low >= home + from - slack && high <= home + to;
    }),
  );
  say(inRange, 'within a range of the level');

  say(pitches.filter((pitch) => pitch === high).length === 1, 'one climax');
  say(pitches[0] !== high && pitches.at(-1) !== high, 'climax inside');
  let run = 1;
  let leaps = 0;
  for (let i = 1; i < pitches.length; i++) {
    const step = pitches[i]! - pitches[i - 1]!;
    const before = i > 1 ? pitches[i - 1]! - pitches[i - 2]! : 0;
    say(Math.abs(step) <= level.maxLeap, 'no interval over the largest');
    if (Math.abs(step) >= 5) leaps++;
    if (Math.abs(before) >= 5) say(Math.abs(step) <= 4 && step * before < 0, 'leaps resolved');
    say(!(step === 0 && before === 0 && i > 1), 'no note three times running');
    if (i > 2 && step !== 0) {
      const trill = pitches[i] === pitches[i - 2] && pitches[i - 1] === pitches[i - 3];
      say(!trill || foreign > 0, 'no to-and-fro');
    }
    run = step !== 0 && Math.sign(step) === Math.sign(before) ? run + 1 : 2;
    say(run <= 4, 'no mechanical run');
    const crossed = Math.abs(notes[i]!.string - notes[i - 1]!.string);
    say(crossed <= level.maxStringCross, 'strings crossed');
  }
  say(leaps <= Math.max(1, Math.round(level.leapsPerBar * bars)), 'not more leaps than stated');
  say(Math.abs(pitches.at(-1)! - pitches.at(-2)!) < 5, 'ends without a leap');

  // The answer: bar 2 begins with the onsets of bar 1, and moves with or against it.
  const inBar = (n: number) => notes.filter((note) => Math.floor(note.startTicks / bar) === n);
  const [one, two] = [inBar(0), inBar(1)];
  const shared = Math.min(2, one.length, two.length);
  for (let k = 0; k < shared - 1; k++)
    say(one[k]!.startTicks === two[k]!.startTicks - bar, 'the opening figure is heard again');
  if (two.length >= 2) {
    const way = Math.sign(one[1]!.midi - one[0]!.midi);
    say(Math.abs(Math.sign(two[1]!.midi - two[0]!.midi)) === Math.abs(way), 'bar 2 answers bar 1');
  }
  return bad;
}

describe.each(LEVELS.map((level, i) => ({ level, number: i + 1 })))(
  'melodies of level $number',
  ({ level, number }) => {
    it(`keep every promise over seeds 0–${SEEDS - 1}`, () => {
      const faults = new Map<string, number>();
      for (let seed = 0; seed < SEEDS; seed++) {
        const test = make(number, seed);
        for (const fault of broken(test, level)) if (!faults.has(fault)) faults.set(fault, seed);
        if (seed % 500 === 0) expect(parseTest(JSON.parse(JSON.stringify(test)))).toEqual(test);
      }
      expect([...faults].map(([fault, seed]) => `${fault} (first seed ${seed})`)).toEqual([]);
    }, 300_000);

    it('never share pitches and rhythm among 1,000 in a row, in whatever key', () => {
      for (const from of [0, 123_456_789, 4_294_966_295]) {
        const seen = new Map<string, number>();
        for (let seed = from; seed < from + 1000; seed++) {
          const { phrase, key } = make(number, seed);
          const first = phrase.notes[0]!.midi;
          const name = [
            mod12(first - Note.chroma(key.tonic)!),
            ...phrase.notes.map((note) => `${note.startTicks}:${note.midi - first}`),
          ].join(' ');
          expect(seen.get(name), `seeds ${seen.get(name)} and ${seed}`).toBeUndefined();
          seen.set(name, seed);
        }
      }
    }, 300_000);
  },
);

it('the checks above see a broken melody', () => {
  const test = make(5, 3);
  const changed = (
    change: (notes: { midi: number; startTicks: number; fret: number }[]) => void,
  ): string[] => {
    const copy = JSON.parse(JSON.stringify(test));
    change(copy.phrase.notes);
    return broken(copy, LEVELS[4]!);
  };
  expect(broken(test, LEVELS[4]!)).toEqual([]);
  expect(changed((notes) => (notes[1]!.midi += 13))).toContain('no interval over the largest');
  expect(changed((notes) => (notes[0]!.startTicks = 5))).toContain('begins on the first beat');
  expect(changed((notes) => (notes[2]!.fret += 6))).toContain('one hand position of four frets');
  expect(changed((notes) => (notes[notes.length - 1]!.midi += 1))).toContain('ends where the ear rests');
});
