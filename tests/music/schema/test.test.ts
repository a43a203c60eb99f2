import { ScaleType } from 'tonal';
import { describe, expect, it } from 'vitest';
import manifest from '../../../src/audio/assets/manifest.json';
import { strokeOf } from '../../../src/audio/render/stroke.ts';
import type { Bank, BankSound } from '../../../src/audio/render/bank.ts';
import { checkSheet } from '../../../src/audio/render/checkSheet.ts';
import { testFromHash, testLink, testToMidi, testToMusicXml } from '../../../src/exchange/index.ts';
import { checkTest, LIMITS } from '../../../src/music/schema/index.ts';
import type { PracticeTest } from '../../../src/music/score.ts';
import { notate } from '../../../src/notation/index.ts';
import {
  difficulty,
  firstNoteSheet,
  hearingSheet,
  makeTest,
  markTask,
  performanceSheet,
  phraseSheet,
} from '../../../src/tests-engine/index.ts';
import { die } from '../../store/support/sample.ts';

const melody = makeTest({ kind: 'melody', level: 2, seed: 7, instrument: 'guitar' });
const rhythm = makeTest({ kind: 'rhythm', level: 3, seed: 7, instrument: 'bass' });
const copy = (test: PracticeTest): Record<string, any> => JSON.parse(JSON.stringify(test));

/** The recordings of the app, without their samples: which note each is of. */
const bank: Bank = new Map(
  (manifest.samples as { id: string }[]).map((entry) => [
    entry.id,
    { entry, attackSec: 0, buffer: null } as unknown as BankSound,
  ]),
);

/** Everything that any page or file does with a test before a note is played. */
function useFully(test: PracticeTest): void {
  const sheets = [hearingSheet(test), performanceSheet(test), phraseSheet(test), firstNoteSheet(test)];
  for (const sheet of sheets) {
    checkSheet(sheet);
    for (const cue of sheet.cues) if (cue.type === 'note') strokeOf(cue, bank, null);
  }
  notate(test.phrase);
  if (test.question) notate(test.question.other);
  difficulty(test.phrase, test.key, test.tempoBpm);
  markTask(test, { notes: [], tuningCents: 0 as never, heard: { verdict: 'ok', reason: null } });
  testToMidi(test);
  testToMusicXml(test);
  expect(testFromHash(new URL(testLink('https://a.example/', test)).hash)).toEqual(test);
}

/** Another value for one place: mostly one that is allowed there by itself. */
function changed(test: PracticeTest, roll: (n: number) => number): Record<string, any> {
  const json = copy(test);
  const scales = ScaleType.names();
  const within = ([low, high]: readonly [number, number]): number => low + roll(high - low + 1);
  const note = json['phrase'].notes[roll(json['phrase'].notes.length)];
  const metre = json['phrase'].metre;
  const changes: (() => void)[] = [
    () => (json['tempoBpm'] = within(LIMITS.tempoBpm)),
    () => (json['key'].scale = scales[roll(scales.length)]),
    () => (json['key'].tonic = 'ABCDEFG'[roll(7)]! + ['', '#', 'b'][roll(3)]!),
    () => (json['style'] = ['rock', 'shuffle', 'funk', 'ballad', 'reggae', 'latin', 'polka'][roll(7)]),
    () => (json['swing'] = 0.5 + roll(30) / 100),
    () => (json['procedure'].hearings = roll(12)),
    () => (json['procedure'].practiceSec = roll(700)),
    () => (metre.beatUnit = [2, 4, 8, 16][roll(4)]),
    () => {
      metre.beats = within(LIMITS.beats);
      metre.grouping = roll(2) ? [metre.beats] : Array(metre.beats).fill(1);
    },
    () => {
      const first = 1 + roll(metre.beats);
      metre.grouping = first === metre.beats ? [first] : [first, metre.beats - first];
    },
    () => (json['phrase'].bars = within(LIMITS.bars)),
    () => (note.durationTicks = 1 + roll(48) * 10),
    () => (note.durationTicks = 40 * (1 + roll(12))),
    () => (note.startTicks += 20 * (roll(9) - 4)),
    () => (note.fret = roll(26)),
    () => {
      json['tuning'] = json['tuning'].map((string: number) => string + roll(50) - 25);
    },
    () => (json['phrase'].notes = json['phrase'].notes.slice(0, 1)),
    () => (json['level'] = roll(12)),
  ];
  for (let n = 1 + roll(3); n > 0; n--) changes[roll(changes.length)]!();
  // Pitch and spelling follow, or every changed fret would be refused for them alone.
  const lowest = json['tuning'].length;
  for (const one of json['phrase'].notes) {
    one.midi = json['tuning'][lowest - one.string] + one.fret;
    const octave = Math.floor(one.midi / 12) - 1;
    one.spelling = ['C', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'][one.midi % 12]! + octave;
  }
  return json;
}

describe('a test that was let in', () => {
  it('can be sounded, written, marked and sent: 1,500 changed ones (seed 20)', () => {
    const roll = die(20);
    let taken = 0;
    for (let i = 0; i < 1500; i++) {
      const json = changed(i % 2 ? rhythm : melody, roll);
      const checked = checkTest(json);
      if (!('test' in checked)) continue;
      taken += 1;
      try {
        useFully(checked.test);
      } catch (error) {
        throw new Error(`let in, and then: ${String(error)}: ${JSON.stringify(json)}`);
      }
    }
    expect(taken).toBeGreaterThan(150);
  });

  it('is any that the generators make, all levels, kinds and instruments', () => {
    for (let seed = 0; seed < 400; seed++) {
      const kind = seed % 2 ? 'melody' : 'rhythm';
      const instrument = seed % 4 < 2 ? 'guitar' : 'bass';
      const test = makeTest({ kind, level: 1 + (seed % 10), seed, instrument });
      expect(checkTest(copy(test))).toEqual({ test });
      useFully(test);
    }
  });

  it('has only notes that the sampled instruments sound', () => {
    for (const [voice, [low, high]] of [
      ['guitar', LIMITS.guitarMidi],
      ['bassGuitar', LIMITS.bassMidi],
    ] as const) {
      const note = (midi: number) => () =>
        strokeOf(
          { type: 'note', voice, midi, atSec: 1, durationSec: 1, role: 'phrase', velocity: 1 } as never,
          bank,
          null,
        );
      expect(note(low)).not.toThrow();
      expect(note(high)).not.toThrow();
      expect(note(low - 1)).toThrow(RangeError);
      expect(note(high + 1)).toThrow(RangeError);
    }
  });
});

describe('a test is refused', () => {
  it.each<[string, (test: Record<string, any>) => void, 'none' | 'newer']>([
    ['never heard', (t) => (t['procedure'].hearings = 0), 'none'],
    ['heard a hundred times', (t) => (t['procedure'].hearings = 100), 'none'],
    ['heard so often that it sounds for more than ten minutes', tenMinutes, 'none'],
    ['in 1/16', (t) => (t['phrase'].metre = { beats: 1, beatUnit: 16, grouping: [1] }), 'none'],
    ['in quavers by fives', (t) => (t['phrase'].metre = { beats: 5, beatUnit: 8, grouping: [5] }), 'none'],
    ['with a note of 24 ticks', (t) => (t['phrase'].notes[0].durationTicks = 24), 'none'],
    ['in a key of ten flats', (t) => (t['key'] = { tonic: 'Cb', scale: 'minor' }), 'none'],
    ['with a style of a later version', (t) => (t['style'] = 'bolero'), 'newer'],
    ['with a scale of a later version', (t) => (t['key'].scale = 'upside down'), 'newer'],
    ['of a kind of a later version', (t) => (t['kind'] = 'chord'), 'newer'],
    ['of a later version', (t) => (t['version'] = 2), 'newer'],
    ['with a style that is no word', (t) => (t['style'] = '<b>'), 'none'],
    ['with a style of the prototype', (t) => (t['style'] = '__proto__'), 'none'],
  ])('%s', (_, change, why) => {
    const json = copy(melody);
    change(json);
    expect(checkTest(json)).toMatchObject({ why, wrong: expect.any(String) });
  });
});

function tenMinutes(test: Record<string, any>): void {
  test['tempoBpm'] = 30;
  test['phrase'].bars = 16;
  test['procedure'].hearings = 5;
}
