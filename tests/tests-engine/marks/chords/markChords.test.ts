import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import type { JudgedChord } from '../../../../src/music/chords/index.ts';
import { mark as markSchema } from '../../../../src/music/schema/index.ts';
import { cents } from '../../../../src/music/units.ts';
import {
  alignStrums,
  type AnsweredStrum,
  type DueChord,
} from '../../../../src/tests-engine/marks/chords/alignStrums.ts';
import {
  markChords,
  strumErrorMs,
  TOLERANCE_MS,
} from '../../../../src/tests-engine/marks/chords/markChords.ts';

const NOTHING = { missing: [], foreign: [], lowerNote: null, bassSilent: false, another: false };
function judged(
  verdict: JudgedChord['verdict'],
  findings: Partial<JudgedChord['findings']> = {},
): JudgedChord {
  return {
    verdict,
    doubt: verdict === 'cannot-tell' ? 'close' : null,
    findings: { ...NOTHING, ...findings },
    classes: [],
    notes: [],
    shape: null,
    tuningCents: cents(0),
    driven: false,
  };
}
const YES = judged('yes');
const NO_THIRD = judged('no', { missing: [4] });
const ANOTHER = judged('no', { missing: [0, 4], foreign: [1, 5], another: true });

/** A strum that is each of the chords by one verdict, or by verdicts of their own. */
function strum(
  firstSec: number,
  as: JudgedChord | readonly JudgedChord[],
  asked: number,
  spreadSec = 0.02,
): AnsweredStrum {
  const list = Array.isArray(as)
    ? (as as readonly JudgedChord[])
    : new Array<JudgedChord>(asked).fill(as as JudgedChord);
  return { firstSec, fullSec: firstSec + spreadSec, as: new Map(list.map((j, i) => [i, j])) };
}
const SYMBOLS = ['C', 'Am', 'F', 'G'];
const inTime: readonly DueChord[] = SYMBOLS.map((symbol, i) => ({ symbol, dueSec: 2 * i }));
const byOrder: readonly DueChord[] = SYMBOLS.map((symbol) => ({ symbol, dueSec: null }));
const at = (k: number, as: JudgedChord | readonly JudgedChord[] = YES, late = 0) =>
  strum(2 * k + late, as, 4);

describe('a mark of chords', () => {
  it('is 100 where all were right and in time', () => {
    const mark = markChords(
      inTime,
      [0, 1, 2, 3].map((k) => at(k)),
    );
    expect(mark).toMatchObject({ type: 'chords', mark: 100, range: null, outcome: 'there' });
    expect(mark.readings.map(({ code }) => code)).toEqual(['chords-right']);
  });

  it('a chord that cannot be told costs nothing and widens the range', () => {
    const unsure = judged('cannot-tell');
    const right = markChords(inTime, [at(0), at(1), at(2, unsure), at(3)]);
    expect(right.mark).toBe(100);
    expect(right.range![1]).toBe(100);
    expect(right.range![0]).toBeLessThan(90);
    // Beside a wrong one: neither more nor less than without it.
    const wrong = markChords(inTime, [at(0), at(1, NO_THIRD), at(2), at(3)]);
    const both = markChords(inTime, [at(0), at(1, NO_THIRD), at(2, unsure), at(3)]);
    expect(Math.abs(both.mark! - wrong.mark!)).toBeLessThan(6);
    expect(both.range![0]).toBeLessThanOrEqual(both.mark!);
    expect(both.range![1]).toBeGreaterThanOrEqual(both.mark!);
    expect(both.verdicts[2]!.kind).toBe('unsure');
  });

  it('is none where nothing can be told, or nothing was played', () => {
    const untold = markChords(
      byOrder,
      [0, 1, 2, 3].map((k) => at(k, judged('cannot-tell'))),
    );
    expect(untold).toMatchObject({ mark: null, reason: 'unclear', outcome: null });
    expect(markChords(inTime, [])).toMatchObject({ mark: null, reason: 'nothing-played' });
  });

  it('loses more by another chord than by a class, and by a class than by the bass', () => {
    const marks = [judged('no', { lowerNote: 40 }), NO_THIRD, ANOTHER].map(
      (as) => markChords(inTime, [at(0), at(1), at(2, as), at(3)]).mark!,
    );
    expect(marks[0]!).toBeGreaterThan(marks[1]!);
    expect(marks[1]!).toBeGreaterThan(marks[2]!);
    expect(markChords(inTime, [at(0), at(1), at(3)]).mark!).toBeLessThan(marks[2]!);
  });

  it('falls steadily with lateness and never rises', () => {
    let before = 100;
    for (let ms = 0; ms <= 600; ms += 20) {
      const { mark } = markChords(inTime, [at(0), at(1), at(2, YES, ms / 1000), at(3)]);
      expect(mark!).toBeLessThanOrEqual(before);
      before = mark!;
    }
    expect(before).toBeLessThan(95);
  });

  it('names the change that comes late', () => {
    const mark = markChords(inTime, [at(0), at(1), at(2, YES, 0.18), at(3)]);
    expect(mark.advice).toEqual({ code: 'change-late', values: { from: 'Am', to: 'F', ms: 180 } });
  });

  it('knows a late change also where the round trip is not known: by the take’s own centre', () => {
    const strums = (lateSec: number) => [0, 1, 2, 3].map((k) => at(k, YES, lateSec + (k === 2 ? 0.18 : 0)));
    const unknown = { latencyUncertaintyMs: Infinity };
    for (const lateSec of [-0.09, 0, 0.09, 0.2]) {
      const mark = markChords(inTime, strums(lateSec), unknown);
      expect(mark.advice.code).toBe('change-late');
      expect(mark.verdicts.map(({ errorMs }) => Math.round(errorMs!))).toEqual([0, 0, 180, 0]);
      expect(mark.mark).toBe(markChords(inTime, strums(0), unknown).mark);
    }
    // Known to 20 ms, a take 200 ms late is late.
    expect(markChords(inTime, strums(0.2), { latencyUncertaintyMs: 20 }).verdicts[0]!.errorMs).toBeCloseTo(
      180,
      6,
    );
  });
  it('names what is missing and what sounds instead', () => {
    const fourth = judged('no', { missing: [4], foreign: [5] });
    const mark = markChords(inTime, [at(0, fourth), at(1), at(2), at(3)]);
    expect(mark.advice).toEqual({
      code: 'chord-replaced',
      values: { chord: 'C', pitchClass: 4, instead: 5 },
    });
  });

  it('passes every door that marks pass', () => {
    const unsure = judged('cannot-tell');
    for (const strums of [
      [],
      [at(0)],
      [at(0), at(1, NO_THIRD), at(2, unsure), at(3, ANOTHER), strum(9, YES, 4)],
    ])
      for (const asked of [inTime, byOrder]) {
        const json: unknown = JSON.parse(JSON.stringify(markChords(asked, strums)));
        const parsed = v.safeParse(markSchema, json);
        expect(parsed.success, JSON.stringify(parsed.issues?.[0]?.message)).toBe(true);
      }
  });

  it('counts a string let go, or a knock, as no stroke too many', () => {
    const soft: JudgedChord = { ...judged('cannot-tell'), doubt: 'too-quiet' };
    const [clean, with_] = [
      [0, 1, 2, 3].map((k) => at(k)),
      [0, 1, 2, 3].flatMap((k) => [at(k), at(k, soft, 1.6)]),
    ];
    expect(markChords(inTime, with_)).toEqual(markChords(inTime, clean));
    const struck = [0, 1, 2, 3].flatMap((k) => [at(k), at(k, YES, 1.6)]);
    expect(markChords(inTime, struck).mark).toBe(75);
  });
  it('refuses to mark where nothing was asked', () => {
    expect(() => markChords([], [])).toThrow(RangeError);
  });
});

describe('early and late', () => {
  it('a rake around the click is neither', () => {
    expect(strumErrorMs(1, strum(0.9, YES, 1, 0.2))).toBe(0);
    expect(strumErrorMs(1, strum(1.1, YES, 1, 0.2))).toBeCloseTo(100, 9);
    expect(strumErrorMs(1, strum(0.7, YES, 1, 0.2))).toBeCloseTo(-100, 9);
  });
  it('within the tolerance costs nothing', () => {
    const late = (TOLERANCE_MS - 1) / 1000;
    expect(
      markChords(
        inTime,
        [0, 1, 2, 3].map((k) => at(k, YES, late)),
      ).mark,
    ).toBe(100);
  });
});

describe('which strum answers which chord', () => {
  it('goes by order where no time is asked: a wrong try followed by the right chord is answered by the right one', () => {
    const strums = [at(0), at(1, ANOTHER), strum(2.9, YES, 4), at(2), at(3)];
    expect(alignStrums(byOrder, strums)).toEqual({ answers: [0, 2, 3, 4], extra: [1] });
    expect(markChords(byOrder, strums).verdicts.map(({ kind }) => kind)).toEqual([
      'yes',
      'extra',
      'yes',
      'yes',
      'yes',
    ]);
  });
  it('takes a full stroke that is wrong before strokes too short to be told, and those where there is no other', () => {
    const short: JudgedChord = { ...judged('cannot-tell'), doubt: 'too-short' };
    const run = [0.5, 0.8, 1.1].map((sec) => strum(sec, short, 1));
    const one: readonly DueChord[] = [{ symbol: 'C', dueSec: null }];
    expect(alignStrums(one, [...run, strum(1.4, ANOTHER, 1)]).answers).toEqual([3]);
    expect(markChords(one, [...run, strum(1.4, ANOTHER, 1)]).verdicts.map(({ kind }) => kind)).toContain(
      'no',
    );
    expect(alignStrums(one, run).answers[0]).not.toBeNull();
    expect(markChords(one, run).mark).toBeNull();
    // Too close to call is another thing: it costs nothing.
    expect(alignStrums(one, [strum(0.5, judged('cannot-tell'), 1), strum(1, ANOTHER, 1)]).answers).toEqual([
      0,
    ]);
  });
  it('goes by time where it is: what lacks is missed, the others stay', () => {
    expect(alignStrums(inTime, [at(0), at(2), at(3)]).answers).toEqual([0, null, 1, 2]);
    expect(alignStrums(inTime, []).answers).toEqual([null, null, null, null]);
  });
  it('every strum answers one chord at most, in order', () => {
    for (let seed = 1; seed < 200; seed++) {
      const strums = Array.from({ length: seed % 7 }, (_, i) =>
        strum(((seed * 37 * (i + 1)) % 80) / 10, i % 2 ? YES : ANOTHER, 4),
      );
      strums.sort((a, b) => a.firstSec - b.firstSec);
      const { answers, extra } = alignStrums(seed % 2 ? inTime : byOrder, strums);
      const used = answers.filter((a) => a !== null);
      expect([...used].sort((a, b) => a - b)).toEqual(used);
      expect([...used, ...extra].sort((a, b) => a - b)).toEqual(strums.map((_, i) => i));
    }
  });
});
