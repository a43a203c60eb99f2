import { describe, expect, it } from 'vitest';
import type { PracticeTest } from '../../../src/music/score.ts';
import {
  estimate,
  makeTest,
  partEstimates,
  partsOfNotes,
  PITCH_PARTS,
  practised,
  TIME_PARTS,
  trend,
  troubles,
  weakest,
  weekOf,
} from '../../../src/tests-engine/index.ts';
import type { Mark, Practised } from '../../../src/tests-engine/index.ts';
import {
  belief,
  expectedLogistic,
  logistic,
  observe,
  predictor,
  logit,
} from '../../../src/tests-engine/progress/gaussian.ts';
import {
  atMostWrong,
  chanceThere,
  noCalibration,
  calibrate,
} from '../../../src/tests-engine/progress/predict.ts';
import { MODEL } from '../../../src/tests-engine/progress/estimate.ts';
import { learner, source } from './learner.ts';

const DAY = 86_400_000;
const base = makeTest({ kind: 'melody', level: 3, seed: 5, instrument: 'guitar' });
/** A melody test in A minor of [startTicks, durationTicks, midi, spelling]. */
function melody(notes: [number, number, number, string][], more: Partial<PracticeTest> = {}): PracticeTest {
  const metre = { beats: 4, beatUnit: 4, grouping: [1, 1, 1, 1] } as const;
  const written = notes.map(([startTicks, durationTicks, midi, spelling]) => ({
    ...{ startTicks, durationTicks, midi, spelling },
    ...{ string: 1, fret: 0 },
  }));
  return {
    ...base,
    key: { tonic: 'A', scale: 'minor' },
    tempoBpm: 80,
    phrase: { metre, bars: 2, notes: written },
    ...more,
  } as unknown as PracticeTest;
}
function markOf(kinds: readonly (string | null)[], more: Partial<Mark> = {}): Mark {
  const verdicts = kinds.flatMap((kind, targetIndex) =>
    kind === null
      ? []
      : [{ kind, targetIndex, playedIndex: null, errorMs: 0, errorSemitones: 0, unclear: false }],
  );
  const timing = { biasMs: 0, unevennessMs: 10, driftPercent: 0, tempoRatio: 1 };
  return { mark: 80, outcome: 'close', verdicts, timing, ...more } as unknown as Mark;
}
const done = (
  test: PracticeTest,
  mark: Mark,
  n: number,
  manner: 'strict' | 'relaxed' = 'strict',
): Practised =>
  practised({ id: `a${String(n).padStart(4, '0')}`, atMs: n * DAY, order: n, test, manner, mark });

describe('the parts of a note', () => {
  it('are at least twenty, and none stands twice', () => {
    const all = [...PITCH_PARTS, ...TIME_PARTS];
    expect(all.length).toBeGreaterThanOrEqual(20);
    expect(new Set(all).size).toBe(all.length);
  });
  it('name interval, direction and degree, and ask nothing of the given first note', () => {
    const test = melody([
      [0, 480, 57, 'A3'],
      [480, 480, 64, 'E4'],
      [960, 480, 63, 'D#4'],
      [1440, 480, 60, 'C4'],
      [1920, 480, 69, 'A4'],
    ]);
    const pitch = partsOfNotes(test).map((note) => note.pitch);
    expect(pitch[0]).toEqual([]);
    expect(pitch[1]).toEqual(expect.arrayContaining(['fifth-up', 'degree-5', 'opening']));
    expect(pitch[2]).toEqual(expect.arrayContaining(['step-down', 'chromatic', 'turn']));
    expect(pitch[3]).toEqual(expect.arrayContaining(['third-down', 'degree-3', 'ending']));
    expect(pitch[4]).toEqual(expect.arrayContaining(['wide-up', 'degree-1', 'ending']));
  });
  it('name where in the beat, after what, and how fast', () => {
    const test = melody([
      [0, 720, 57, 'A3'], // dotted crotchet
      [720, 480, 57, 'A3'], // off the beat, over the next
      [1200, 240, 57, 'A3'],
      [1920, 120, 57, 'A3'], // after a rest, bar 2
      [2040, 120, 57, 'A3'], // semiquaver
      [2400, 160, 57, 'A3'],
      [2560, 160, 57, 'A3'], // triplet
    ]);
    const time = partsOfNotes(test).map((note) => note.time);
    expect(time[0]).toEqual(['on-beat', 'medium', 'first-bar']);
    expect(time[1]).toEqual(expect.arrayContaining(['off-beat', 'crotchet-gap', 'after-dot']));
    expect(time[2]).toEqual(expect.arrayContaining(['off-beat', 'over-beat']));
    expect(time[3]).toEqual(expect.arrayContaining(['on-beat', 'after-rest', 'later-bars']));
    expect(time[4]).toEqual(expect.arrayContaining(['quarter-beat', 'short-gap']));
    expect(time[6]).toEqual(expect.arrayContaining(['triplet']));
  });
  it('are nearly all met by the ladder’s first seven levels (20 seeds of each)', () => {
    const met = new Set<string>();
    for (let level = 1; level <= 7; level++)
      for (let seed = 0; seed < 20; seed++)
        for (const kind of ['melody', 'rhythm'] as const)
          for (const { pitch, time } of partsOfNotes(makeTest({ kind, level, seed, instrument: 'guitar' })))
            [...pitch, ...time].forEach((part) => met.add(part));
    const never = [...PITCH_PARTS, ...TIME_PARTS].filter((part) => !met.has(part));
    expect(never.length, never.join()).toBeLessThanOrEqual(4);
  });
});

describe('what a verdict says', () => {
  const test = melody([
    [0, 480, 57, 'A3'],
    [480, 480, 60, 'C4'],
    [960, 480, 64, 'E4'],
    [1440, 480, 69, 'A4'],
    [1920, 480, 57, 'A3'],
  ]);
  it('goes to pitch or time: wrong to pitch, late to time, missed to both, unclear to neither', () => {
    const mark = markOf(['right', 'wrong', 'late', 'missed', 'right']);
    (mark.verdicts[4] as { unclear: boolean }).unclear = true;
    const { pitch, time } = done(test, mark, 1);
    expect(pitch.map((packed) => packed & 3)).toEqual([2, 0, 1, 0, 2]);
    expect(time.map((packed) => packed & 3)).toEqual([1, 1, 0, 0, 2]);
  });
  it('is nothing where the take was not markable', () => {
    const { pitch, time } = done(test, markOf(['wrong', 'wrong'], { mark: null, outcome: null }), 1);
    expect([...pitch, ...time].every((packed) => (packed & 3) === 2)).toBe(true);
  });
});

describe('the belief', () => {
  it('agrees with the exact posterior of one weight, by numerical integration, within 2 %', () => {
    // 7 of 8 right, prior N(0, 1): integrate w·N(w)·σ(w)^7·(1 − σ(w)) on a fine grid.
    let [mass, first] = [0, 0];
    for (let w = -8; w <= 8; w += 0.001) {
      const density = Math.exp(-w * w * 0.5) * logistic(w) ** 7 * (1 - logistic(w));
      mass += density;
      first += w * density;
    }
    const filtered = belief([0], [1]);
    for (let i = 0; i < 8; i++) observe(filtered, [0], i !== 3);
    expect(Math.abs(filtered.mean[0]! - first / mass)).toBeLessThan(0.02 * (first / mass) + 0.05);
  });
  it('does not blame a part for its bad company', () => {
    const of = belief([1.5, 0, 0], [0.5, 0.8, 0.8]);
    for (let i = 0; i < 30; i++) {
      observe(of, [0, 1, 2], i % 2 === 0); // both parts: half go wrong
      observe(of, [0, 1], true); // the first alone: never
    }
    expect(of.mean[1]!).toBeGreaterThan(of.mean[2]! + 1);
  });
  it('is wide after little and narrow after much', () => {
    const width = (n: number) => {
      const of = belief([0], [1]);
      for (let i = 0; i < n; i++) observe(of, [0], i % 4 !== 0);
      return predictor(of, [0]).variance;
    };
    expect(width(0)).toBe(1);
    expect(width(40)).toBeLessThan(width(4) / 3);
  });
  it('moderates: an uncertain chance is nearer one half', () => {
    expect(expectedLogistic(2, 4)).toBeLessThan(logistic(2));
    expect(expectedLogistic(0, 4)).toBe(0.5);
  });
});

function practise(seed: number, tests: number, manner: 'strict' | 'relaxed' = 'strict') {
  const mayBeWeak = ['third-up', 'degree-5', 'after-rest', 'after-dot'] as const;
  const mind = learner({ seed, mayBeWeak, rate: 0 });
  const { uniform } = source(seed + 9);
  const record: Practised[] = [];
  for (let n = 0; n < tests; n++) {
    const kind = n % 2 ? 'rhythm' : 'melody';
    const seeded = { kind, level: 4, seed: Math.floor(uniform() * 2 ** 32), instrument: 'guitar' } as const;
    const test = makeTest(seeded);
    record.push(done(test, mind.play(test), n, manner));
  }
  return { record, planted: mind.planted };
}

describe('estimates', () => {
  it('know nothing of an empty record and say so by their width', () => {
    const parts = partEstimates(estimate([], 'strict'));
    expect(parts).toHaveLength(PITCH_PARTS.length + TIME_PARTS.length);
    // 90 % of what the priors of base and part together allow: 2 · 1.645 · √(1² + 0.8²) logits.
    const widest = 2 * 1.645 * Math.hypot(MODEL.baseSd, MODEL.partSd);
    for (const { seen, low, high } of parts) {
      expect(seen).toBe(0);
      expect(logit(high) - logit(low)).toBeCloseTo(widest, 1);
    }
    const known = partEstimates(estimate(practise(2, 20).record, 'strict')).filter(({ seen }) => seen > 20);
    expect(known.length).toBeGreaterThan(5);
    for (const { low, high } of known) expect(logit(high) - logit(low)).toBeLessThan(0.8 * widest);
  });
  it('name a planted weakness among the first three, four times in five (seeds 1 to 40)', () => {
    const unnamed = Array.from({ length: 40 }, (_, k) => k + 1).filter((seed) => {
      const { record, planted } = practise(seed, 60);
      const first = weakest(estimate(record, 'strict')).slice(0, 3);
      return !first.some((part) => part.part === planted);
    });
    expect(unnamed.length, `seeds ${unnamed.join()}`).toBeLessThanOrEqual(8);
  });
  it('call nothing trouble after three tests', () => {
    for (const seed of [2, 3, 5]) expect(troubles(practise(seed, 3).record, 'strict')).toEqual([]);
  });
  it('do not depend on the order the record is handed over in', () => {
    const { record } = practise(4, 20);
    expect(partEstimates(estimate([...record].reverse(), 'strict'))).toEqual(
      partEstimates(estimate(record, 'strict')),
    );
  });
  it('keep strict and relaxed apart', () => {
    const { record } = practise(5, 20);
    const relaxed = practise(6, 20, 'relaxed').record;
    expect(partEstimates(estimate([...record, ...relaxed], 'strict'))).toEqual(
      partEstimates(estimate(record, 'strict')),
    );
  });
  it('stand still when the clock was set back', () => {
    const { record } = practise(7, 10);
    const back = record.map((one, i) => (i < 5 ? one : { ...one, atMs: one.atMs - 365 * DAY }));
    for (const { low, high } of partEstimates(estimate(back, 'strict'))) {
      expect(Number.isFinite(low) && Number.isFinite(high)).toBe(true);
      expect(high).toBeGreaterThan(low);
    }
  });
});

describe('the chance of "there"', () => {
  it('counts wrong notes as the binomial does when all are alike', () => {
    const upTo = atMostWrong([0.2, 0.2, 0.2]);
    [0.512, 0.896, 0.992, 1].forEach((p, k) => expect(upTo[k]).toBeCloseTo(p, 12));
  });
  it('is corrected by how tests really end', () => {
    const up = noCalibration();
    const down = noCalibration();
    for (let i = 0; i < 20; i++) {
      calibrate(up, 0.5, true);
      calibrate(down, 0.5, false);
    }
    expect(chanceThere(0.5, up)).toBeGreaterThan(0.8);
    expect(chanceThere(0.5, down)).toBeLessThan(0.2);
  });
});

describe('a trend', () => {
  it('says nothing of four values, rises with a rise, falls with a fall, and is steady in noise', () => {
    const { normal } = source(3);
    const noisy = (slope: number) => Array.from({ length: 20 }, (_, i) => 70 + slope * i + 4 * normal());
    expect(trend([50, 60, 70, 80], 5).direction).toBe('too-few');
    expect(trend(noisy(1.5), 5).direction).toBe('rising');
    expect(trend(noisy(-1.5), 5).direction).toBe('falling');
    expect(trend(noisy(0), 5).direction).toBe('steady');
  });
  it('calls no more than one record in ten of pure noise rising or falling (200 records, seed 4)', () => {
    const { normal } = source(4);
    let called = 0;
    for (let i = 0; i < 200; i++)
      if (
        trend(
          Array.from({ length: 20 }, () => 70 + 8 * normal()),
          5,
        ).direction !== 'steady'
      )
        called += 1;
    expect(called / 200).toBeLessThanOrEqual(0.1);
  });
  it('covers the true level about nine times in ten when levels drift as the model says (seed 5)', () => {
    const { normal } = source(5);
    let inside = 0;
    for (let run = 0; run < 100; run++) {
      let level = 70;
      const levels = Array.from({ length: 15 }, () => (level += 0.8 * normal()));
      const { points } = trend(
        levels.map((l) => l + 8 * normal()),
        5,
      );
      inside += points.filter(({ low, high }, i) => levels[i]! >= low && levels[i]! <= high).length;
    }
    expect(inside / 1500).toBeGreaterThan(0.8);
    expect(inside / 1500).toBeLessThan(0.97);
  });
  it('is shifted when all values are, and refuses NaN', () => {
    const values = [60, 71, 65, 80, 77, 83];
    const [a, b] = [
      trend(values, 5),
      trend(
        values.map((v) => v + 10),
        5,
      ),
    ];
    a.points.forEach(({ level }, i) => expect(b.points[i]!.level).toBeCloseTo(level + 10, 9));
    expect(() => trend([1, NaN], 5)).toThrow(new RangeError('values must be finite, got NaN'));
  });
});

describe('the week', () => {
  it('counts seven days and compares with the four weeks before, of one manner', () => {
    const test = makeTest({ kind: 'rhythm', level: 2, seed: 1, instrument: 'guitar' });
    const at = (day: number, mark: number, manner: 'strict' | 'relaxed' = 'strict'): Practised => ({
      ...done(test, markOf(['right'], { mark, outcome: mark >= 85 ? 'there' : 'close' }), day, manner),
      atMs: day * DAY,
    });
    const record = [at(60, 10), at(70, 60), at(80, 70), at(95, 90), at(96, 80), at(97, 5, 'relaxed')];
    expect(weekOf(record, 'strict', 100 * DAY)).toMatchObject({
      ...{ tests: 2, there: 1, median: 85, medianBefore: 65, lastAtMs: 96 * DAY },
    });
    expect(weekOf([], 'strict', 0)).toMatchObject({
      tests: 0,
      median: null,
      medianBefore: null,
      lastAtMs: null,
    });
  });
});
