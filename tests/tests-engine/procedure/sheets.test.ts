import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  barSec,
  canHalve,
  countInBars,
  feltBeats,
  halfOf,
  hearingSheet,
  performanceSheet,
  performedSec,
  phraseSheet,
  backingSheet,
  firstNoteSheet,
  swungTicks,
  wholeSheet,
} from '../../../src/tests-engine/index.ts';
import type { CueSheet, SheetMark } from '../../../src/music/score.ts';
import { anyTest, METRES, note, plain, plainRhythm } from './some-tests.ts';

const times = (sheet: CueSheet, label: SheetMark['label']) =>
  sheet.marks.filter((m) => m.label === label).map((m) => m.atSec as number);
const words = (sheet: CueSheet) => sheet.cues.flatMap((c) => (c.type === 'speech' ? [c.word] : []));
const phraseNotes = (sheet: CueSheet) => sheet.cues.filter((c) => c.type === 'note' && c.role === 'phrase');

describe('the hearing', () => {
  it('goes tonic, first note, count, phrase, a bar of drums, phrase again', () => {
    const sheet = hearingSheet(plain);
    const [tonic] = times(sheet, 'tonic');
    const [first] = times(sheet, 'firstNote');
    const counts = times(sheet, 'countIn');
    const phrases = times(sheet, 'phrase');
    const beat = 60 / 90;
    expect(tonic!).toBeLessThan(first!);
    expect(counts).toHaveLength(4);
    expect(counts[0]! - first!).toBeGreaterThan(1);
    expect(phrases).toHaveLength(2);
    expect(phrases[0]! - counts[0]!).toBeCloseTo(4 * beat, 9);
    expect(phrases[1]! - phrases[0]!).toBeCloseTo((8 + 4) * beat, 9);
    const between = sheet.cues.filter(
      (c) => c.atSec >= phrases[0]! + 8 * beat - 1e-9 && c.atSec < phrases[1]! - 1e-9,
    );
    expect(between.length).toBeGreaterThan(3);
    expect(new Set(between.map((c) => c.type))).toEqual(new Set(['drum']));
    expect(phraseNotes(sheet)).toHaveLength(2 * plain.phrase.notes.length);
  });
  it('sounds the key’s tonic triad and the very first note', () => {
    const sheet = hearingSheet(plain);
    const reference = sheet.cues.filter((c) => c.type === 'note' && c.role === 'reference');
    expect(reference.map((c) => c.type === 'note' && c.midi)).toEqual([57, 60, 64, 69, 57]);
  });
  it('repeats as often as asked, and 0 or 11 times never', () => {
    expect(times(hearingSheet(plain, { repeat: 3 }), 'phrase')).toHaveLength(3);
    expect(() => hearingSheet(plain, { repeat: 0 })).toThrow(RangeError);
    expect(() => hearingSheet(plain, { repeat: 11 })).toThrow(/1 to 10 times, got 11/);
  });
  it('at half tempo lasts twice as long between its marks, at the same pitch', () => {
    const [a, b] = times(hearingSheet(plain), 'phrase');
    const slow = hearingSheet(plain, { tempoFactor: 0.5 });
    const [c, d] = times(slow, 'phrase');
    expect(d! - c!).toBeCloseTo(2 * (b! - a!), 9);
    expect(
      phraseNotes(slow)
        .map((n) => n.type === 'note' && n.midi)
        .slice(0, 7),
    ).toEqual(plain.phrase.notes.map((n) => n.midi));
    expect(() => hearingSheet(plain, { tempoFactor: 0 })).toThrow(RangeError);
    expect(() => hearingSheet(plain, { tempoFactor: Number.NaN })).toThrow(RangeError);
  });
});

describe('the performance', () => {
  it('is the spoken count, then the backing without the phrase', () => {
    const sheet = performanceSheet(plain);
    expect(words(sheet)).toEqual(['one', 'two', 'three', 'four']);
    expect(phraseNotes(sheet)).toEqual([]);
    const [start] = times(sheet, 'takeStart');
    const [end] = times(sheet, 'takeEnd');
    const beat = 60 / 90;
    expect(start! - times(sheet, 'countIn')[0]!).toBeCloseTo(4 * beat, 9);
    expect(end! - start!).toBeCloseTo(8 * beat, 9);
    expect(sheet.durationSec - end!).toBeGreaterThanOrEqual(1);
    expect(sheet.cues.some((c) => c.type === 'note' && c.atSec >= start!)).toBe(true);
    expect(sheet.cues.every((c) => c.atSec < end! - 1e-9)).toBe(true);
  });
  it.each([
    ['4/4', 0, ['one', 'two', 'three', 'four']],
    ['3/4', 1, ['one', 'two', 'three', 'one', 'two', 'three']],
    ['6/8', 2, ['one', 'two', 'one', 'two']],
    ['12/8', 3, ['one', 'two', 'three', 'four']],
    ['5/4', 4, ['one', 'two', 'three', 'four', 'five']],
    ['7/8', 6, ['one', 'two', 'three']],
  ] as const)('counts %s in as its metre asks', (_, i, expected) => {
    const metre = METRES[i]!;
    const test = { ...plain, phrase: { metre, bars: 1, notes: [note(0, 240, 57)] } };
    const sheet = performanceSheet(test);
    expect(words(sheet)).toEqual(expected);
    const counted = times(sheet, 'takeStart')[0]! - times(sheet, 'countIn')[0]!;
    expect(counted).toBeCloseTo(countInBars(metre) * barSec(test), 9);
  });
  it('in 7/8 puts the words on the groups and clicks on the quavers between', () => {
    const metre = METRES[6]!;
    const test = { ...plain, phrase: { metre, bars: 1, notes: [note(0, 240, 57)] } };
    const sheet = performanceSheet(test);
    const quaver = 60 / 90 / 2;
    const at = times(sheet, 'countIn').map((t) => Math.round((t - times(sheet, 'countIn')[0]!) / quaver));
    expect(at).toEqual([0, 2, 4]);
    const clicks = sheet.cues.filter((c) => c.type === 'drum' && c.piece === 'click');
    expect(clicks).toHaveLength(4);
  });
  it('counts with clicks where the language has no voice', () => {
    const sheet = performanceSheet(plain, { count: 'click' });
    expect(words(sheet)).toEqual([]);
    const before = sheet.cues.filter((c) => c.atSec < times(sheet, 'takeStart')[0]! - 1e-9);
    expect(before.map((c) => c.type === 'drum' && c.piece)).toEqual([
      'clickAccent',
      'click',
      'click',
      'click',
    ]);
  });
  it('knows its entries to the microsecond, whatever the test', () => {
    fc.assert(
      fc.property(anyTest, (test) => {
        const sheet = performanceSheet(test);
        const [start] = times(sheet, 'takeStart');
        const bars = times(sheet, 'bar');
        expect(bars).toHaveLength(test.phrase.bars);
        bars.forEach((t, i) => expect(t).toBeCloseTo(start! + i * barSec(test), 6));
        expect(times(sheet, 'beat')).toHaveLength(test.phrase.bars * feltBeats(test.phrase.metre).length);
        expect(phraseNotes(sheet)).toEqual([]);
      }),
      { numRuns: 100 },
    );
  });
});

describe('every sheet', () => {
  it('is in order, inside its length, with marks numbered from 0', () => {
    fc.assert(
      fc.property(anyTest, (test) => {
        const sheets = [
          hearingSheet,
          performanceSheet,
          phraseSheet,
          backingSheet,
          firstNoteSheet,
          wholeSheet,
        ];
        for (const make of sheets) {
          const sheet = make(test);
          const at = sheet.cues.map((c) => c.atSec as number);
          expect(at).toEqual([...at].sort((a, b) => a - b));
          for (const cue of sheet.cues) {
            expect(cue.atSec).toBeGreaterThanOrEqual(0);
            expect(cue.velocity).toBeGreaterThan(0);
            expect(cue.velocity).toBeLessThanOrEqual(1);
            const end = cue.atSec + (cue.type === 'note' ? cue.durationSec : 0);
            expect(end).toBeLessThanOrEqual(sheet.durationSec);
          }
          const seen = new Map<string, number>();
          for (const mark of sheet.marks) {
            expect(mark.index).toBe(seen.get(mark.label) ?? 0);
            seen.set(mark.label, mark.index + 1);
          }
          expect(sheet.marks.at(-1)).toEqual({ label: 'end', index: 0, atSec: sheet.durationSec });
        }
      }),
      { numRuns: 60 },
    );
  });
  it('lines phrase and backing up on one clock', () => {
    expect(times(phraseSheet(plain), 'beat')).toEqual(times(backingSheet(plain), 'beat'));
    expect(phraseSheet(plain).durationSec).toBe(backingSheet(plain).durationSec);
  });
  it('is the same for the same test', () => {
    expect(wholeSheet(plainRhythm)).toEqual(wholeSheet(structuredClone(plainRhythm)));
  });
});

describe('the whole test', () => {
  it('keeps the practice window silent between hearing and performance', () => {
    const hearing = hearingSheet(plain);
    const whole = wholeSheet(plain);
    const from = hearing.durationSec;
    const to = from + plain.procedure.practiceSec;
    expect(whole.cues.filter((c) => c.atSec >= from && c.atSec < to)).toEqual([]);
    expect(times(whole, 'takeStart')[0]).toBeCloseTo(to + times(performanceSheet(plain), 'takeStart')[0]!, 9);
  });
});

describe('swing', () => {
  it('delays the off-beat quaver, leaves beats and triplets alone, and never reorders', () => {
    expect(swungTicks(240, 2 / 3)).toBeCloseTo(320, 9);
    expect(swungTicks(480, 2 / 3)).toBe(480);
    expect(swungTicks(160, 2 / 3)).toBe(160);
    expect(swungTicks(320, 2 / 3)).toBe(320);
    const straight = Array.from({ length: 17 }, (_, i) => swungTicks(i * 120, 0.6));
    expect(straight).toEqual([...straight].sort((a, b) => a - b));
  });
  it('is counted in seconds at the test’s tempo', () => {
    expect(performedSec(240, { ...plain, swing: 2 / 3 })).toBeCloseTo((60 / 90) * (2 / 3), 9);
  });
});

describe('halves', () => {
  it('together hold every note once, in the same places', () => {
    fc.assert(
      fc.property(anyTest, (test) => {
        fc.pre(canHalve(test.phrase));
        const a = halfOf(test, 'first').phrase;
        const b = halfOf(test, 'second').phrase;
        expect(a.bars + b.bars).toBe(test.phrase.bars);
        expect([...a.notes, ...b.notes].map((n) => n.midi)).toEqual(test.phrase.notes.map((n) => n.midi));
      }),
    );
  });
  it('of one bar there are none', () => {
    const one = { ...plain, phrase: { ...plain.phrase, bars: 1 } };
    expect(() => halfOf(one, 'first')).toThrow(
      /two bars or more with notes in both has halves, this one has 1 and/,
    );
  });
});
