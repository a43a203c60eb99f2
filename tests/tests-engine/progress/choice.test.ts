import { describe, expect, it } from 'vitest';
import type { PracticeTest, TestKind } from '../../../src/music/score.ts';
import {
  AIM,
  AIM_WIDTH,
  chooseFrom,
  chooseNext,
  estimate,
  know,
  makeTest,
  partEstimates,
  partsOfNotes,
  practised,
  TIME_PARTS,
  TUNINGS,
} from '../../../src/tests-engine/index.ts';
import type { Mark, Practised } from '../../../src/tests-engine/index.ts';
import { follower } from '../../../src/tests-engine/progress/follow.ts';
import { practiceGain, wanted } from '../../../src/tests-engine/progress/gain.ts';
import { chanceThere, notesOf, rawChance, setsOfTest } from '../../../src/tests-engine/progress/predict.ts';
import { cameUp, noReturns } from '../../../src/tests-engine/progress/returns.ts';
import { learner, source } from './learner.ts';

const THERE = 85;
const DAY = 86_400_000;
type Request = { kind: TestKind; level: number; seed: number };
const make = (request: Request): PracticeTest => makeTest({ ...request, instrument: 'guitar' });

/** A mark with a verdict for each written note; the mark counts them. */
function markOf(kinds: readonly string[]): Mark {
  const mark = (100 * kinds.filter((kind) => kind === 'right').length) / kinds.length;
  const verdicts = kinds.map((kind, targetIndex) => ({
    ...{ kind, targetIndex, playedIndex: null, errorMs: 0, errorSemitones: 0, unclear: false },
  }));
  const timing = { biasMs: 0, unevennessMs: 10, driftPercent: 0, tempoRatio: 1 };
  const outcome = mark >= THERE ? 'there' : mark >= 60 ? 'close' : 'not-yet';
  return { mark, outcome, verdicts, timing } as unknown as Mark;
}
const attempt = (test: PracticeTest, mark: Mark, n: number, manner: Practised['manner'] = 'strict') =>
  practised({ id: `a${String(n).padStart(4, '0')}`, atMs: n * DAY, order: n, test, manner, mark });

/** A student's record, melodies and rhythms in turn at one level; `base` is their usual strength. */
function recordOf(seed: number, tests: number, level = 4, base = 4): Practised[] {
  const mind = learner({
    seed,
    mayBeWeak: ['third-down', 'off-beat', 'degree-3', 'after-rest'],
    base,
    rate: 0,
  });
  const { uniform } = source(seed + 9);
  return Array.from({ length: tests }, (_, n) => {
    const test = make({ kind: n % 2 ? 'rhythm' : 'melody', level, seed: Math.floor(uniform() * 2 ** 32) });
    const kinds = mind
      .answer(test)
      .map(({ found, inTime }) => (found ? (inTime ? 'right' : 'late') : inTime ? 'wrong' : 'missed'));
    return attempt(test, markOf(kinds), n + 1);
  });
}
const RECORD = recordOf(8, 40);
const choose = (record: readonly Practised[], more: object = {}) =>
  chooseNext({ record, manner: 'strict', kind: 'melody', level: 4, there: THERE, make, ...more });

describe('the next test', () => {
  it('is the same for the same record in any order, and another after one attempt more', () => {
    const mixed = [...RECORD].sort((a, b) => (a.id.charCodeAt(4) % 7) - (b.id.charCodeAt(4) % 7));
    expect(choose(mixed)).toEqual(choose(RECORD));
    expect(choose(RECORD).test).not.toEqual(choose(RECORD.slice(0, -1)).test);
  });
  it('does not depend on the order in which attempts of equal time are handed over', () => {
    const tied = RECORD.map((one, n) => ({ ...one, atMs: 0, order: Math.floor(n / 8) }));
    const turned = tied.map((_, n) => tied[8 * Math.floor(n / 8) + (7 - (n % 8))]!);
    expect(turned).not.toEqual(tied);
    expect(choose(turned)).toEqual(choose(tied));
  });
  it('of an empty record is of the level asked for, and says that it is the first', () => {
    const { test, why } = choose([]);
    expect(test.level).toBe(4);
    expect(why.code).toBe('first');
  });
  it('always says why, with the chance in percent', () => {
    for (const n of [0, 3, 20, 40]) {
      const { why, chance } = choose(RECORD.slice(0, n));
      expect(why.values['percent']).toBe(Math.round(100 * chance));
      if (why.code === 'weak-part') expect(why.part).not.toBeNull();
    }
  });
  it('brings the part that it says it brings back', () => {
    let said = 0;
    for (let n = 10; n <= 40; n += 2) {
      const { test, why } = choose(RECORD.slice(0, n));
      if (why.part === null) continue;
      said += 1;
      const parts = partsOfNotes(test).flatMap(({ pitch, time }): string[] => [...pitch, ...time]);
      expect(parts).toContain(why.part);
    }
    expect(said).toBeGreaterThan(8);
  });
  it('has a chance of four in five ± 0.1 wherever any test that was weighed has', () => {
    let [inside, outside] = [0, 0];
    for (const base of [3, 4, 5])
      for (const kind of ['melody', 'rhythm'] as const)
        for (const n of [4, 12, 30]) {
          const record = recordOf(11, n, 4, base);
          const weighed: PracticeTest[] = [];
          const spy = (request: Request) => {
            weighed.push(make(request));
            return weighed.at(-1)!;
          };
          const { chance } = choose(record, { kind, make: spy });
          const known = know(record, 'strict', THERE);
          const chances = weighed.map((test) =>
            chanceThere(rawChance(notesOf(known.estimate, setsOfTest(test)), THERE), known.calibration[kind]),
          );
          expect(chances).toContain(chance);
          const misses = chances.map((one) => Math.abs(one - AIM));
          if (misses.some((miss) => miss <= AIM_WIDTH)) {
            inside += 1;
            expect(Math.abs(chance - AIM)).toBeLessThanOrEqual(AIM_WIDTH);
          } else {
            outside += 1;
            expect(Math.abs(chance - AIM)).toBeLessThanOrEqual(Math.min(...misses) + 0.05);
          }
        }
    expect(inside).toBeGreaterThan(4);
    expect(outside).toBeGreaterThan(0);
  });
  it('goes to an easier level when tests of the present one fail, to a harder one when all come off', () => {
    const all = (said: 0 | 1) =>
      RECORD.map((one) => ({
        ...one,
        outcome: said ? ('there' as const) : ('not-yet' as const),
        pitch: one.pitch.map((packed) => ((packed & 2) === 2 ? packed : (packed & ~1) | said)),
        time: one.time.map((packed) => (packed & ~1) | said),
      }));
    expect(choose(all(0)).test.level).toBeLessThan(4);
    expect(choose(all(0)).why.code).toBe('level-down');
    expect(choose(all(1)).test.level).toBeGreaterThan(4);
    expect(choose(all(1)).why.code).toBe('level-up');
  });
  it('stays at a level that is fixed, and under the highest there is', () => {
    expect(choose(recordOf(3, 20, 4, 6), { fixedLevel: true, level: 2 }).test.level).toBe(2);
    expect(choose(recordOf(3, 20, 4, 6), { highestLevel: 4 }).test.level).toBeLessThanOrEqual(4);
  });
  it('is moved by no single test of the student’s own choice far away', () => {
    const own = attempt(make({ kind: 'melody', level: 10, seed: 1 }), markOf(['missed']), 50);
    expect(choose([...RECORD, own]).test.level).toBeLessThan(8);
  });
  it('can follow a teacher’s own phrase, which has no level', () => {
    const own = { ...make({ kind: 'melody', level: 4, seed: 1 }), level: null, seed: null };
    const record = [...RECORD, attempt(own, markOf(own.phrase.notes.map(() => 'right')), 50)];
    expect(choose(record).test.level).not.toBeNull();
  });
  it('can be played: every note lies on the strings of the tuning asked for', () => {
    for (const { instrument, strings } of TUNINGS)
      for (const kind of ['melody', 'rhythm'] as const) {
        const { test } = choose(RECORD, {
          kind,
          make: (request: Request) => makeTest({ ...request, instrument, tuning: strings }),
        });
        expect(test.kind).toBe(kind);
        for (const { string, fret, midi } of test.phrase.notes) {
          expect(strings[strings.length - string]! + fret).toBe(midi);
          expect(fret).toBeLessThanOrEqual(15);
        }
      }
  });
  it('does not know what was played in the other manner', () => {
    const relaxed = recordOf(5, 30, 7).map((one, n) => ({
      ...one,
      ...{ id: `r${n}`, manner: 'relaxed' as const, order: n + 0.5 },
    }));
    expect(choose([...RECORD, ...relaxed])).toEqual(choose(RECORD));
    expect(choose([...RECORD, ...relaxed], { manner: 'relaxed' })).not.toEqual(choose(RECORD));
  });
  it('rests on the verdict that overrides: what a teacher calls right is no weakness', () => {
    // Off-beats late in every test; then the teacher overrides those verdicts.
    const tests = Array.from({ length: 16 }, (_, n) => make({ kind: 'rhythm', level: 3, seed: 7919 * n }));
    const record = (late: 'late' | 'right') =>
      tests.map((test, n) => {
        const kinds = partsOfNotes(test).map(({ time }) => (time.includes('off-beat') ? late : 'right'));
        return attempt(test, markOf(kinds), n + 1);
      });
    const chance = (of: readonly Practised[]) =>
      partEstimates(estimate(of, 'strict')).find(({ part }) => part === 'off-beat')!.chance;
    expect(chance(record('late'))).toBeLessThan(0.5);
    expect(chance(record('right'))).toBeGreaterThan(0.9);
    const asked = { kind: 'rhythm', level: 3 };
    expect(choose(record('late'), asked).test.level).toBeLessThan(choose(record('right'), asked).test.level!);
  });
  it('refuses a level that is none', () => {
    for (const level of [0, 11, 2.5, NaN])
      expect(() => choose([], { level })).toThrow(new RangeError(`level must be 1…10, got ${level}`));
  });
});

describe('a part comes back', () => {
  const bit = TIME_PARTS.indexOf('off-beat');
  const test = make({ kind: 'rhythm', level: 3, seed: 5 });
  const played = (right: boolean) =>
    attempt(test, markOf(test.phrase.notes.map(() => (right ? 'right' : 'late'))), 1);
  const without = { ...played(true), time: [] };
  it('after 1, 2, 4, … tests while it goes well, at most 32, and after one when it fails', () => {
    const returns = noReturns();
    const waits = [true, true, true, true, true, true, true, false, true].map((right) => {
      cameUp(returns, played(right));
      return returns.time[bit]!.wait;
    });
    expect(waits).toEqual([2, 4, 8, 16, 32, 32, 32, 1, 2]);
  });
  it('not by itself: tests without it only count', () => {
    const returns = noReturns();
    cameUp(returns, played(true));
    for (let n = 0; n < 5; n++) cameUp(returns, without);
    expect(returns.time[bit]).toEqual({ wait: 2, since: 5 });
  });
  it('is wanted more once it is due, as weak as it is', () => {
    const known = know(RECORD, 'strict', THERE);
    const test4 = make({ kind: 'rhythm', level: 4, seed: 3 });
    const notes = setsOfTest(test4);
    const material = [{ level: 4, sets: notes, chances: notes.map(() => ({ pitch: 1, time: 0.9 })) }];
    const want = (since: number) => {
      Object.assign(known.returns.time[bit]!, { wait: 16, since });
      return wanted(known, 'rhythm', material, 4).find(({ part }) => part === 'off-beat')!;
    };
    expect(want(15).due).toBe(true);
    expect(want(0).want).toBeLessThan(want(15).want);
  });
  it('counts for less with each further note of it in one test, and a long phrase for no more than a short one', () => {
    const known = know(RECORD, 'strict', THERE);
    const one = { pitch: 0, time: 1 << bit };
    const other = { pitch: 0, time: 1 };
    const material = [{ level: 4, sets: [one], chances: [{ pitch: 1, time: 0.8 }] }];
    const wants = wanted(known, 'rhythm', material, 4).filter(({ part }) => part === 'off-beat');
    const sum = (many: number, of: number) =>
      practiceGain([...Array<typeof one>(many).fill(one), ...Array<typeof one>(of - many).fill(other)], wants)
        .sum;
    expect(sum(2, 8)).toBeGreaterThan(sum(1, 8));
    expect(sum(2, 8) - sum(1, 8)).toBeLessThan(sum(1, 8));
    expect(sum(16, 32)).toBeLessThan(sum(8, 8));
  });
});

describe('knowledge that follows a record', () => {
  const ask = (known: ReturnType<typeof know>) =>
    chooseFrom(known, { manner: 'strict', kind: 'melody', level: 4, there: THERE, make });
  const follow = follower();
  const both = (record: readonly Practised[]) => {
    expect(follow(record, 'strict', THERE)).toEqual(know(record, 'strict', THERE));
  };
  it('is that of a full replay: as it grows, after an override, for another student, past the window', () => {
    for (const n of [10, 11, 11, 20, 40]) both(RECORD.slice(0, n));
    both(
      RECORD.map((one, n) =>
        n === 5 ? { ...one, outcome: 'there' as const, time: one.time.map((p) => p | 1) } : one,
      ),
    );
    both(recordOf(9, 12));
    const long = Array.from({ length: 520 }, (_, n) => ({
      ...RECORD[n % 40]!,
      ...{ id: `b${n}`, order: n + 1, atMs: n * DAY },
    }));
    for (const n of [498, 499, 500, 520]) both(long.slice(0, n));
  });
  it('is left as it was by a choice', () => {
    const known = know(RECORD, 'strict', THERE);
    const before = structuredClone(known);
    ask(known);
    expect(known).toEqual(before);
  });
});
