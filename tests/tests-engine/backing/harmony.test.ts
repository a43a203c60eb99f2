import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chordClasses, functionOf, parseChord, romanNumeral } from '../../../src/music/chords/index.ts';
import type { Cue, PracticeTest } from '../../../src/music/score.ts';
import { parallels } from '../../../src/tests-engine/backing/arrange/voices.ts';
import { GROOVES } from '../../../src/tests-engine/backing/arrange/grooves.ts';
import { onsetsInBar } from '../../../src/tests-engine/backing/figure.ts';
import { backingCues, harmonised, STYLE_NAMES } from '../../../src/tests-engine/backing/index.ts';
import { CELL_STEPS, type CellName } from '../../../src/tests-engine/backing/style.ts';
import { barTicks, makeTest, parseTest } from '../../../src/tests-engine/material/index.ts';
import { performedSec } from '../../../src/music/time.ts';
import { halfOf } from '../../../src/tests-engine/tasks/heard/half.ts';
import { anyTest, note, plain, plainRhythm } from '../procedure/some-tests.ts';

type Pitched = Extract<Cue, { type: 'note' }>;
const notesOf = (test: PracticeTest): Pitched[] =>
  backingCues(test, 0).filter((c): c is Pitched => c.type === 'note');
const chordsOf = (test: PracticeTest) => test.backing!.chords.map((c) => parseChord(c.symbol)!);
const numerals = (test: PracticeTest) => chordsOf(test).map((c) => romanNumeral(c, test.key.tonic));
const rootsOf = (test: PracticeTest) => chordsOf(test).map((c) => chordClasses(c)[0]!);

describe('harmony', () => {
  it('fills any phrase with chords that can be read, the same ones every time', () => {
    fc.assert(
      fc.property(anyTest, (test) => {
        const once = harmonised(test);
        expect(harmonised(test)).toEqual(once);
        expect(parseTest(JSON.parse(JSON.stringify(once)))).toEqual(once);
      }),
      { numRuns: 200 },
    );
  });
  it('goes through two roots or more, home by a cadence, in made tests of every level and kind', () => {
    for (let level = 1; level <= 10; level++)
      for (const kind of ['melody', 'rhythm'] as const)
        for (let seed = 0; seed < 20; seed++) {
          const test = makeTest({ kind, level, seed: 31 * seed, instrument: seed % 2 ? 'bass' : 'guitar' });
          const roots = rootsOf(test);
          expect(new Set(roots).size, `${kind} ${level} ${31 * seed}`).toBeGreaterThan(1);
          expect(numerals(test).at(-1)!, `${kind} ${level} ${31 * seed}`).toMatch(/^i(?!i|v)/i);
        }
  });
  // What stands before the last tonic of a phrase, by a harmony handbook's table of cadences: authentic from V or
  // vii°, plagal from IV; in minor rock and modal music also from bVII, bVI or a minor v (Open Music Theory, 2nd
  // ed., chapters on cadences and on rock's modal progressions; from memory).
  it('comes home from a chord that a handbook lists before the tonic', () => {
    const before = new Map<string, number>();
    let all = 0;
    for (let level = 1; level <= 10; level++)
      for (let seed = 0; seed < 60; seed++) {
        const test = makeTest({ kind: 'melody', level, seed: 97 * seed, instrument: 'guitar' });
        const chord = chordsOf(test).at(-2)!;
        const minor = test.backing !== undefined && /minor|dorian|blues/.test(test.key.scale);
        const does = functionOf(chord, test.key.tonic, minor);
        all++;
        before.set(does, (before.get(does) ?? 0) + 1);
      }
    const leading = ['dominant', 'predominant', 'modal'].reduce((sum, f) => sum + (before.get(f) ?? 0), 0);
    expect(leading / all).toBeGreaterThan(0.9);
  });
  // A handbook's cadences name no chord on the third or sixth degree before the tonic: bIII, bVI, iii and vi share two
  // tones with it (Open Music Theory, 2nd ed., chapters on cadences; from memory).
  it('never comes home from the third or the sixth degree, whatever the scale', () => {
    let all = 0;
    for (let level = 1; level <= 10; level++)
      for (const kind of ['melody', 'rhythm'] as const)
        for (let seed = 0; seed < 100; seed++) {
          const test = makeTest({ kind, level, seed: 1009 * seed, instrument: seed % 2 ? 'bass' : 'guitar' });
          const [before, last] = numerals(test).slice(-2);
          expect(last, `${kind} ${level} ${1009 * seed}`).toMatch(/^i(?!i|v)/i);
          expect(before, `${kind} ${level} ${1009 * seed}`).toMatch(/^(?!b?#?(iii|vi)(?!i))/i);
          all++;
        }
    expect(all).toBe(2000);
  });
  it('takes the seventh that a stressed note sings into the chord, where the chord has one of its own', () => {
    let sevenths = 0;
    for (let seed = 0; seed < 200; seed++) {
      const test = makeTest({ kind: 'melody', level: 2, seed, instrument: 'guitar' });
      for (const { symbol, startTicks, durationTicks } of test.backing!.chords) {
        const tones = chordClasses(parseChord(symbol)!);
        if (tones.length < 4 || GROOVES.find((g) => g.name === test.style)!.fullness !== 'triads') continue;
        sevenths++;
        const over = test.phrase.notes.filter(
          (n) => n.startTicks < startTicks + durationTicks && n.startTicks + n.durationTicks > startTicks,
        );
        expect(
          over.some((n) => n.midi % 12 === tones[3]),
          `${seed} ${symbol}`,
        ).toBe(true);
      }
    }
    expect(sevenths).toBeGreaterThan(10);
  });
  // Which triad is followed by which, major and minor keys: the "Table of Common Progressions" of the article "Chord
  // Progressions" (guitar.wikia.com/wiki/Chord_Progressions, common-practice harmony; read 2026-11-28), degrees as
  // semitones above the tonic; the tonic may go anywhere and interrupt anything.
  const MAJOR: Readonly<Record<number, readonly number[]>> = {
    2: [7, 11],
    4: [2, 5, 7, 9],
    5: [0, 2, 7, 11],
    7: [0, 9],
    9: [2, 5, 7, 4],
    11: [0, 7],
  };
  const MINOR: Readonly<Record<number, readonly number[]>> = {
    2: [7],
    3: [2, 5, 8],
    5: [0, 2, 7, 10],
    7: [0, 8],
    8: [2, 5, 7, 3],
    10: [3],
    11: [0],
  };
  it.each([
    [/^major/, MAJOR, 0.95],
    [/^harmonic minor/, MINOR, 0.85],
  ])('of %s follows a handbook’s table of successions', (scale, table, share) => {
    let [all, listed] = [0, 0];
    for (let level = 1; level <= 10; level++)
      for (let seed = 0; seed < 60; seed++) {
        const test = makeTest({ kind: 'melody', level, seed: 977 * seed, instrument: 'guitar' });
        // A blues goes its own way: V, IV, I.
        if (!scale.test(test.key.scale) || test.style === 'shuffle') continue;
        const tonic = chordClasses({ root: test.key.tonic, quality: 'major' })[0]!;
        const degrees = rootsOf(test).map((root) => (root - tonic + 12) % 12);
        for (let i = 1; i < degrees.length; i++) {
          const [from, to] = [degrees[i - 1]!, degrees[i]!];
          all++;
          if (from === 0 || from === to || table[from]?.includes(to)) listed++;
        }
      }
    expect(all).toBeGreaterThan(100);
    expect(listed / all).toBeGreaterThan(share);
  });
  it('of a harmonic minor never has the lowered seventh', () => {
    for (let seed = 0; seed < 200; seed++) {
      const test = makeTest({ kind: 'melody', level: 7, seed, instrument: 'guitar' });
      if (test.key.scale !== 'harmonic minor') continue;
      const tonic = chordClasses({ root: test.key.tonic, quality: 'major' })[0]!;
      for (const chord of chordsOf(test)) expect(chordClasses(chord)).not.toContain((tonic + 10) % 12);
    }
  });
  it('names roots as a chart does: no F flat, no double signs', () => {
    for (const tonic of ['Bb', 'Eb', 'Ab', 'Db', 'F#', 'C#'])
      for (const scale of ['major', 'minor', 'harmonic minor', 'dorian', 'phrygian', 'lydian', 'chromatic'])
        for (const { root } of chordsOf(harmonised({ ...plain, key: { tonic, scale } })))
          expect(root).toMatch(/^(?!Fb|Cb|E#|B#)[A-G][#b]?$/);
  });
  it('of a half is that half of the whole’s', () => {
    const whole = harmonised(plain);
    const [first, second] = (['first', 'second'] as const).map((half) => halfOf(whole, half));
    for (const half of [first!, second!]) expect(parseTest(JSON.parse(JSON.stringify(half)))).toEqual(half);
    const symbols = (test: PracticeTest) => test.backing!.chords.map((c) => c.symbol);
    expect(symbols(whole)).toEqual(
      [...symbols(first!), ...symbols(second!)].filter((s, i, all) => s !== all[i - 1]),
    );
  });
});

describe('the arranged backing', () => {
  it('has six grooves whose rows fill every cell to the step', () => {
    expect(GROOVES.map((g) => g.name).sort()).toEqual([...STYLE_NAMES].sort());
    for (const groove of GROOVES)
      for (const [name, variants] of Object.entries(groove.cells))
        for (const { drums, bass, chords, upper } of variants) {
          for (const row of [...Object.values(drums), bass, chords, ...(upper ? [upper] : [])])
            expect(row, `${groove.name} ${name}`).toHaveLength(CELL_STEPS[name as CellName]);
          expect(bass, groove.name).toMatch(/^[Rr35678^.-]+$/);
          expect(chords, groove.name).toMatch(/^[Xxo.-]+$/);
          expect(upper ?? '.', groove.name).toMatch(/^[123.-]+$/);
        }
  });
  it('sounds every chord whole, over its root, whatever the test', () => {
    fc.assert(
      fc.property(anyTest, (any) => {
        const test = harmonised(any);
        const notes = notesOf(test);
        test.backing!.chords.forEach(({ startTicks, durationTicks, symbol }) => {
          const chord = chordClasses(parseChord(symbol)!);
          const [from, to] = [startTicks, startTicks + durationTicks].map((t) => performedSec(t, test));
          const here = notes.filter((n) => n.atSec >= from! - 1e-6 && n.atSec < to! - 1e-6);
          const sounding = new Set(here.filter((n) => n.voice !== 'bass').map((n) => n.midi % 12));
          const under = here.find((n) => n.voice === 'bass' && Math.abs(n.atSec - from!) < 1e-6);
          const all = under ? new Set([...sounding, under.midi % 12]) : sounding;
          // The fifth of a chord with a seventh may be left out.
          const needed = chord.length > 3 ? [chord[1]!, chord[3]!] : chord;
          for (const pc of needed) expect(all, `${symbol} in ${test.style}`).toContain(pc);
          if (under) expect(under.midi % 12).toBe(chord[0]);
        });
        expect(notes.some((n) => n.voice === 'bass')).toBe(test.instrument === 'guitar');
      }),
      { numRuns: 200 },
    );
  });
  it('never strikes a rhythm test’s figure, or its rival, in any part or bar', () => {
    fc.assert(
      fc.property(anyTest, (any) => {
        const test = harmonised(any.kind === 'rhythm' ? any : { ...plainRhythm, style: any.style });
        const bar = barTicks(test.phrase.metre);
        const barSec = performedSec(bar, test);
        const parts = new Map<string, number[][]>();
        for (const cue of backingCues(test, 0)) {
          const id = cue.type === 'note' ? cue.voice : cue.type === 'drum' ? cue.piece : cue.word;
          const bars = parts.get(id) ?? Array.from({ length: test.phrase.bars }, () => []);
          parts.set(id, bars);
          const i = Math.floor(cue.atSec / barSec + 1e-9);
          const at = Math.round((cue.atSec - i * barSec) * 1e6);
          if (!bars[i]!.includes(at)) bars[i]!.push(at);
        }
        for (const [part, bars] of parts)
          bars.forEach((at, i) => {
            for (const phrase of [test.phrase, test.question!.other]) {
              const figure = onsetsInBar(phrase, i).map((t) => Math.round(performedSec(t, test) * 1e6));
              if (figure.length > 1) expect(at, `${part} in bar ${i}`).not.toEqual(figure);
            }
          });
      }),
      { numRuns: 200 },
    );
  });
  it('holds chords and bass still over a rhythm: no strokes but where a chord or bar begins', () => {
    const test = makeTest({ kind: 'rhythm', level: 5, seed: 4, instrument: 'guitar', style: 'rock' });
    const starts = test.backing!.chords.map((c) => performedSec(c.startTicks, test));
    const bars = Array.from({ length: test.phrase.bars }, (_, b) =>
      performedSec(b * barTicks(test.phrase.metre), test),
    );
    for (const n of notesOf(test))
      expect([...starts, ...bars].some((s) => Math.abs(s - n.atSec) < 1e-6)).toBe(true);
  });
  it('of a reggae strikes its chords off the beat over a rhythm too, in every bar, over a bass that holds', () => {
    for (const instrument of ['guitar', 'bass'] as const)
      for (let seed = 0; seed < 40; seed++) {
        const test = makeTest({ kind: 'rhythm', level: 3, seed, instrument, style: 'reggae' });
        const bar = performedSec(barTicks(test.phrase.metre), test);
        const beat = performedSec(480, test);
        for (let b = 0; b < test.phrase.bars; b++) {
          const struck = notesOf(test).filter(
            (n) => n.voice === 'rhythmGuitar' && Math.floor(n.atSec / bar + 1e-9) === b,
          );
          const starts = new Set(struck.map((n) => Math.round(((n.atSec % bar) / beat) * 4) / 4));
          expect(starts.size, `${instrument} ${seed} bar ${b}`).toBeGreaterThanOrEqual(3);
          const offBeat = [...starts].filter((at) => at % 1 !== 0).length;
          expect(offBeat, `${instrument} ${seed} bar ${b}`).toBeGreaterThanOrEqual(3);
        }
      }
  });
  it('leads its voices: no parallel fifths or octaves, inner voices step', () => {
    let changes = 0;
    for (let level = 1; level <= 10; level++)
      for (let seed = 0; seed < 20; seed++) {
        const test = makeTest({ kind: 'melody', level, seed, instrument: 'bass' });
        const struck = test.backing!.chords.map(({ startTicks }) => {
          const at = performedSec(startTicks, test);
          const from = notesOf(test).filter((n) => n.atSec >= at - 1e-6);
          const first = from.filter((n) => Math.abs(n.atSec - from[0]!.atSec) < 1e-6);
          return first.map((n) => n.midi as number).sort((a, b) => a - b);
        });
        for (let i = 1; i < struck.length; i++) {
          const [a, b] = [struck[i - 1]!.slice(-3), struck[i]!.slice(-3)];
          changes++;
          expect(parallels(a, b), `level ${level} seed ${seed}`).toBe(0);
          expect(Math.abs(b[1]! - a[1]!), `level ${level} seed ${seed}`).toBeLessThanOrEqual(5);
        }
      }
    expect(changes).toBeGreaterThan(400);
    // The counter sees what it is for: C major up to D major, all voices a tone.
    expect(parallels([48, 60, 64, 67], [50, 62, 66, 69])).toBeGreaterThan(0);
  });
  it('refuses a chord that is none', () => {
    const test = harmonised(plain);
    const chords = test.backing!.chords.map((c) => ({ ...c, symbol: 'Hm' }));
    expect(() => backingCues({ ...test, backing: { arranger: 2, chords } }, 0)).toThrow(/"Hm" is no chord/);
    expect(() => parseTest({ ...test, backing: { arranger: 2, chords } })).toThrow(/which is no chord/);
    const short = test.backing!.chords.slice(0, -1);
    expect(() => parseTest({ ...test, backing: { arranger: 2, chords: short } })).toThrow(
      /not at the last bar line/,
    );
  });
  it('begins its chords again where the phrase is longer than they are', () => {
    const test = harmonised(plain);
    const once = notesOf(test).map((n) => [n.atSec, n.midi]);
    const length = performedSec(2 * barTicks(plain.phrase.metre), plain);
    const twice = notesOf({ ...test, phrase: { ...test.phrase, bars: 4 } });
    const firstChord = (from: number) =>
      twice.filter((n) => n.voice !== 'bass' && Math.abs(n.atSec - from) < 1e-6).map((n) => n.midi % 12);
    expect(once.length).toBeGreaterThan(0);
    expect(new Set(firstChord(length))).toEqual(new Set(firstChord(0)));
    expect(twice.every((n) => n.durationSec > 0)).toBe(true);
  });
  it('takes the given chords, not its own', () => {
    const chords = [
      { startTicks: 0, durationTicks: 1920, symbol: 'F' },
      { startTicks: 1920, durationTicks: 1920, symbol: 'G7' },
    ] as unknown as NonNullable<PracticeTest['backing']>['chords'];
    const notes = notesOf({ ...plain, backing: { arranger: 2, chords } });
    expect(notes.find((n) => n.voice === 'bass')!.midi % 12).toBe(5);
    expect(note(0, 480, 60).midi).toBe(60);
  });
});
