import { Note, Scale } from 'tonal';
import { describe, expect, it } from 'vitest';
import {
  chordAt,
  chordParts,
  chordsAtSec,
  coming,
  handlerOf,
  makeChords,
  markTask,
  OPEN_SPAN,
  practised,
  SHAPE_FAMILIES,
  startTask,
  step,
  STYLE_NAMES,
  takeOf,
  weakChordsOf,
  type ProcedureCommand,
  type Style,
} from '../../../src/tests-engine/index.ts';
import type { ChordTest, TakenStrum } from '../../../src/music/chords/index.ts';
import type { HeardTake } from '../../../src/music/notes.ts';
import { cents } from '../../../src/music/units.ts';
import { checkOwn } from '../../../src/store/schema/index.ts';
import { ID } from '../../store/support/backup.ts';
import { sampleAttempt } from '../../store/support/sample.ts';

const REQUEST = { seed: 8, families: ['open'] as const, voicing: 'shape' as const, count: 8 };
const named = makeChords({ ...REQUEST, how: 'named' });
const timed = makeChords({ ...REQUEST, how: 'progression', tempoBpm: 80 });

type Verdict = TakenStrum['answers'][number]['verdict'];
const strum = (asked: number, atSec: number, verdict: Verdict, missing: number[] = []): TakenStrum => ({
  firstSec: atSec,
  fullSec: atSec + 0.02,
  answers: [{ asked, verdict, doubt: null, missing, foreign: [], lowerNote: null }],
});
const heard = (strums: readonly TakenStrum[]): HeardTake => ({
  notes: [],
  tuningCents: cents(0),
  heard: { verdict: 'ok', reason: null },
  strums,
});
const allRight = (test: ChordTest, byMs = 0): HeardTake =>
  heard(chordsAtSec(test).map((at, i) => strum(i, at + byMs / 1000, 'yes')));

describe('a test of chords', () => {
  it('is prepared in silence, then counted in and recorded', () => {
    for (const [test, word] of [
      [named, 'recall'],
      [timed, 'chart'],
    ] as const) {
      let state = startTask(test, { manner: 'strict' });
      expect(state.plan[0]).toMatchObject({ does: 'prepare', named: word, sheet: null });
      const commands: ProcedureCommand[] = [];
      for (const type of ['goOn', 'practiceEnded'] as const) {
        const next = step(state, { type });
        state = next.state;
        commands.push(...next.commands);
      }
      expect(state).toMatchObject({ step: 'countIn', recording: true });
      expect(commands.flatMap((c) => (c.type === 'play' ? [c.sheet] : []))).toEqual(['performance']);
    }
  });

  it('ticks where a name appears, clicks on each beat of a progression, and has a band without chords', () => {
    const beatOne = (test: ChordTest) => {
      const sheet = handlerOf(test).sheet(test, 'performance', {});
      const start = sheet.marks.find(({ label }) => label === 'takeStart')!.atSec;
      return sheet.cues
        .filter(({ atSec }) => atSec >= start - 1e-9)
        .map((cue) => ({ ...cue, atSec: cue.atSec - start }));
    };
    expect(beatOne(named).map(({ atSec }) => atSec)).toEqual(
      chordsAtSec(named).map((at) => expect.closeTo(at, 9)),
    );
    expect(beatOne(timed)).toHaveLength(32);
    const band = beatOne(makeChords({ ...REQUEST, how: 'progression', style: 'rock' }));
    const notes = band.flatMap((cue) => (cue.type === 'note' ? [cue.voice] : []));
    expect(new Set(notes)).toEqual(new Set(['bass']));
    expect(band.some(({ type }) => type === 'drum')).toBe(true);
  });

  it('has a band in every style for every kind of shape', () => {
    for (const family of SHAPE_FAMILIES)
      for (const [seed, style] of STYLE_NAMES.entries())
        for (let k = 0; k < 3; k++) {
          const request = { seed: 10 * seed + k, families: [family], count: 8, voicing: 'any' } as const;
          const test = makeChords({ ...request, how: 'progression', style: style as Style });
          const { cues } = handlerOf(test).sheet(test, 'performance', {});
          const bass = cues.filter((cue) => cue.type === 'note');
          expect(bass.length, `${family} ${style} ${request.seed}`).toBeGreaterThanOrEqual(8);
          expect(bass.every((cue) => cue.type === 'note' && cue.voice === 'bass')).toBe(true);
        }
  });

  it('asks the ear for each named chord until the next is named, and shows that one', () => {
    const { asked, expectedSec } = handlerOf(named).chords!(named)!;
    const at = chordsAtSec(named);
    expect(asked.map(({ fromSec }) => fromSec)).toEqual(at);
    expect(asked.slice(0, -1).map(({ toSec }) => toSec)).toEqual(
      at.slice(1).map((sec) => expect.closeTo(sec, 9)),
    );
    expect(expectedSec).toEqual([]);
    expect([-0.1, 0, at[1]! - 0.01, at[1]!, 1000].map((sec) => chordAt(named, sec))).toEqual([
      -1, 0, 0, 1, 7,
    ]);
  });

  it('sounds each chord that was asked for, to hear beside the take', () => {
    const sheet = handlerOf(timed).target(timed);
    const phrase = sheet.marks.find(({ label }) => label === 'phrase')!.atSec;
    const first = sheet.cues.filter((cue) => Math.abs(cue.atSec - phrase) < 0.2);
    const sounding = timed.chords[0]!.frets!.flatMap((fret, i) =>
      fret === null ? [] : [timed.tuning[i]! + fret],
    );
    expect(first.map((cue) => (cue.type === 'note' ? cue.midi : 0))).toEqual(sounding);
  });

  it('marks a take at every door alike: heard, moved to its own clock, kept and read again', () => {
    const moved = takeOf(
      heard(allRight(timed).strums!.map((s) => ({ ...s, firstSec: s.firstSec + 5, fullSec: s.fullSec + 5 }))),
      { beatOneSec: 4.9, latencySec: 0.1 },
      handlerOf(timed).span(timed),
    );
    expect(markTask(timed, moved)).toMatchObject({ type: 'chords', mark: 100, outcome: 'there' });
    const kept = JSON.parse(JSON.stringify(moved)) as HeardTake;
    expect(markTask(timed, takeOf(kept, { beatOneSec: 0, latencySec: 0 }, OPEN_SPAN))).toEqual(
      markTask(timed, moved),
    );
    const attempt = {
      ...sampleAttempt(ID(1), 2),
      ...{ id: ID(2), atMs: 1e12, order: 1e12 },
      test: timed,
      take: kept,
      mark: markTask(timed, kept),
      answer: null,
    };
    expect(checkOwn('attempts', attempt)).toEqual(attempt);
    const beyond = { ...attempt, take: { ...kept, strums: [{ ...kept.strums![0]!, loud: 1 }] } };
    expect(() => checkOwn('attempts', beyond)).toThrow(/loud/);
  });

  it('takes what it heard while a name was said for no stroke too many, where names are said', () => {
    const said = makeChords({ ...REQUEST, how: 'named', said: true });
    const [first, second] = chordsAtSec(said);
    const right = chordsAtSec(said).map((at, i) => strum(i, at + 4, 'yes'));
    const between = (atSec: number) => heard([...right, strum(0, atSec, 'no', [4])]);
    const extras = (test: ChordTest, atSec: number): number => {
      const mark = markTask(test, between(atSec));
      return mark.type === 'chords' ? mark.verdicts.filter(({ kind }) => kind === 'extra').length : -1;
    };
    expect(extras(said, first! + 1)).toBe(0);
    expect(extras(said, second! - 0.5)).toBe(1);
    expect(extras({ ...named }, first! + 1)).toBe(1);
    // A progression is not named, whatever was asked for.
    expect(makeChords({ ...REQUEST, how: 'progression', said: true }).said).toBeUndefined();
  });

  it('leaves out strokes of the count-in and says what was not heard', () => {
    const early = takeOf(
      heard([strum(0, -1.5, 'no', [0, 4]), ...allRight(timed).strums!]),
      { beatOneSec: 0, latencySec: 0 },
      handlerOf(timed).span(timed),
    );
    expect(markTask(timed, early).mark).toBe(100);
    const refused: HeardTake = { ...heard([]), heard: { verdict: 'refused', reason: 'not-an-instrument' } };
    expect(markTask(timed, refused)).toMatchObject({
      mark: null,
      reason: 'not-an-instrument',
      advice: { code: 'not-heard', values: { reason: 'not-an-instrument' } },
    });
  });
});

describe('what practice learns of chords', () => {
  const attempt = (take: HeardTake, order: number, test = timed) =>
    practised({
      id: String(order),
      atMs: order,
      order,
      test,
      manner: 'strict',
      mark: markTask(test, take),
    });

  it('knows each shape and each change with its uncertainty, the weak ones first', () => {
    // The first chord's third never sounds; the change to the third chord is always late.
    const late = 2;
    const take = heard(
      chordsAtSec(timed).map((at, i) =>
        strum(
          i,
          at + (i === late ? 0.3 : 0),
          timed.chords[i]!.symbol === timed.chords[0]!.symbol ? 'no' : 'yes',
          [4],
        ),
      ),
    );
    const once = chordParts([attempt(take, 1)], 'strict');
    const often = chordParts(
      [1, 2, 3, 4, 5, 6].map((n) => attempt(take, n)),
      'strict',
    );
    const [one, many] = [once.shapes[0]!, often.shapes[0]!];
    expect(many.name).toBe(timed.chords[0]!.symbol);
    expect(many).toMatchObject({ right: 0 });
    expect(many.high - many.low).toBeLessThan(one.high - one.low);
    expect(often.changes[0]!.name).toBe(`${timed.chords[late - 1]!.symbol} → ${timed.chords[late]!.symbol}`);
    expect(chordParts([attempt(take, 1)], 'relaxed')).toEqual({ shapes: [], changes: [] });
  });

  it('brings what goes wrong back three times as often', () => {
    const weak = timed.chords[1]!.symbol;
    const take = heard(
      chordsAtSec(timed).map((at, i) => strum(i, at, timed.chords[i]!.symbol === weak ? 'no' : 'yes', [4])),
    );
    const known = weakChordsOf(
      [1, 2, 3, 4].map((n) => attempt(take, n)),
      'strict',
    );
    expect(known[0]).toBe(weak);
    const count = (which: readonly string[]): number => {
      let found = 0;
      for (let seed = 0; seed < 400; seed++) {
        const programme = {
          from: 'chords',
          ...REQUEST,
          families: ['open', 'seventh'],
          how: 'named',
        } as const;
        const next = coming(programme, named, () => seed, which);
        if (next.do === 'begin' && next.task.kind === 'chords')
          found += next.task.chords.filter(({ symbol }) => symbol === weak).length;
      }
      return found;
    };
    expect(count(known)).toBeGreaterThan(2 * count([]));
  });

  it('says nothing of a chord that could not be told, nor of an attempt without a mark', () => {
    const unsure = heard(chordsAtSec(timed).map((at, i) => strum(i, at, i === 0 ? 'cannot-tell' : 'yes')));
    const said = attempt(unsure, 1).chords!;
    expect(said[0]).toMatchObject({ right: null });
    expect(said.slice(1).every(({ right }) => right)).toBe(true);
    expect(attempt(heard([]), 2).chords).toEqual([]);
  });
});

describe('a list in a key', () => {
  const classes = (names: readonly string[]) => names.map((name) => Note.chroma(name));
  /** The key's scale by tonal, in minor with the leading note of its dominant. */
  const scaleOf = (tonic: string, minor: boolean) =>
    new Set(
      classes(
        [minor ? 'minor' : 'major', ...(minor ? ['harmonic minor'] : [])].flatMap(
          (name) => Scale.get(`${tonic} ${name}`).notes,
        ),
      ),
    );
  it('holds no chord with a note from outside it', () => {
    for (const [tonic, minor] of [
      ['G', false],
      ['C', false],
      ['A', true],
      ['E', true],
    ] as const) {
      const inside = scaleOf(tonic, minor);
      for (let seed = 0; seed < 20; seed++) {
        const { chords } = makeChords({
          ...REQUEST,
          families: ['open', 'barre', 'seventh', 'slash'],
          how: 'named',
          seed,
          key: { tonic, minor },
        });
        for (const { frets, symbol } of chords) {
          const sounding = frets!.flatMap((fret, i) =>
            fret === null ? [] : [(timed.tuning[i]! + fret) % 12],
          );
          expect([symbol, sounding.filter((pc) => !inside.has(pc))]).toEqual([symbol, []]);
        }
      }
    }
  });
  it('is refused, with what was asked for, where no chord of its kinds belongs to the key', () => {
    // Of the shapes over another bass none lies in E major; open ones hold no turn of F minor.
    const slashes = {
      ...REQUEST,
      families: ['slash'],
      how: 'named',
      key: { tonic: 'E', minor: false },
    } as const;
    expect(() => makeChords(slashes)).toThrow(
      new RangeError('no chord of these kinds (slash) belongs to that key'),
    );
    const turns = { ...REQUEST, how: 'progression', key: { tonic: 'F', minor: true } } as const;
    expect(() => makeChords(turns)).toThrow(/no key holds a progression of these kinds \(open\)/);
  });
});
