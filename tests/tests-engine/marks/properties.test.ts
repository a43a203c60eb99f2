import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  markTake,
  type Clock,
  type MarkRequest,
  type PlayedNote,
  type Transposition,
} from '../../../src/tests-engine/index.ts';
import { account } from '../../../src/tests-engine/marks/account.ts';
import { kindest, markOf, prepare } from '../../../src/tests-engine/marks/prepare.ts';
import { climb } from '../../bench/marks/hostile.ts';
import { lostSum } from './takes.ts';

/** Phrases of 4…14 notes on a semiquaver grid at 100 bpm, and takes of them with errors of every kind. */
const GRID = 0.15;
/** 0…1, as likely here as there. */
const share = fc.noBias(fc.integer({ min: 0, max: 1e6 })).map((x) => x / 1e6);
const gaps = fc.array(fc.constantFrom(1, 2, 2, 2, 3, 4), { minLength: 3, maxLength: 13 });
const phrase = fc
  .tuple(gaps, fc.array(fc.integer({ min: 48, max: 72 }), { minLength: 14, maxLength: 14 }))
  .map(([steps, pitches]) => {
    let at = 0;
    return [0, ...steps].map((step, k) => ({ onsetSec: (at += step * GRID), midi: pitches[k]! }));
  });
const errors = fc.array(
  fc.record({
    ms: fc.integer({ min: -120, max: 120 }),
    semitones: fc.constantFrom(0, 0, 0, 0, 1, -2, 12),
    left: fc.constantFrom(false, false, false, false, true),
  }),
  { minLength: 14, maxLength: 14 },
);
const take = fc.tuple(phrase, errors).map(([target, errs]) => ({
  target,
  played: target
    .map((n, k) => ({
      onsetSec: n.onsetSec + errs[k]!.ms / 1000,
      midi: n.midi + errs[k]!.semitones,
      left: errs[k]!.left,
    }))
    .filter((n, k) => k === 0 || !n.left)
    .map(({ onsetSec, midi }): PlayedNote => ({ onsetSec, midi })),
}));
/** Notes that have nothing to do with the phrase: anywhere in time, any pitch, as many as chance has it. */
const wild = fc
  .tuple(phrase, fc.array(fc.tuple(share, share), { minLength: 2, maxLength: 16 }))
  .map(([target, notes]) => ({
    target,
    played: notes
      .map(([at, pitch]): PlayedNote => ({
        onsetSec: at * 1.3 * (target[target.length - 1]!.onsetSec + GRID),
        midi: 45 + 30 * pitch,
      }))
      .sort((x, y) => x.onsetSec - y.onsetSec),
  }));
const clock = fc.constantFrom<Clock>('backing', 'free');
type Lists = Pick<MarkRequest, 'target' | 'played'>;
const marked = (lists: Lists, over: Partial<MarkRequest> = {}): number =>
  markTake({ ...lists, clock: 'backing', transposition: 'none', ...over }).mark!;
const rhythmOf = ({ target, played }: Lists): Lists => ({
  target: target.map(({ onsetSec }) => ({ onsetSec })),
  played: played.map(({ onsetSec }) => ({ onsetSec })),
});
const each = { numRuns: 150, seed: 5 };
/** Marks are given to a tenth. */
const TENTH = 0.1000001;

describe('every mark', () => {
  it('lies in 0…100, and its parts add up to what is lost (seed 5)', () => {
    fc.assert(
      fc.property(take, clock, fc.boolean(), (lists, c, rhythm) => {
        const m = markTake({ ...(rhythm ? rhythmOf(lists) : lists), clock: c, transposition: 'none' });
        expect(m.mark).toBeGreaterThanOrEqual(0);
        expect(m.mark).toBeLessThanOrEqual(100);
        expect(lostSum(m)).toBeCloseTo(100 - m.mark!, 6);
        expect(Math.min(...Object.values(m.lost))).toBeGreaterThanOrEqual(0);
      }),
      each,
    );
  });

  it('splits exactly the points that the alignment lost among its parts (seed 5)', () => {
    fc.assert(
      fc.property(fc.oneof(take, wild), clock, (lists, c) => {
        const prepared = prepare({ ...lists, clock: c, transposition: 'any' });
        const reading = kindest(prepared, () => 1);
        const { notes, rhythm, pulse, continuity } = account(reading, prepared.rule).parts;
        expect(notes + rhythm + pulse + continuity).toBeCloseTo(reading.cost, 9);
      }),
      { ...each, numRuns: 60 },
    );
  });

  it('judges each written and each played note once (seed 5)', () => {
    fc.assert(
      fc.property(take, clock, (lists, c) => {
        const { verdicts } = markTake({ ...lists, clock: c, transposition: 'none' });
        const indices = (key: 'targetIndex' | 'playedIndex'): number[] =>
          verdicts.flatMap((v) => v[key] ?? []).sort((a, b) => a - b);
        expect(indices('targetIndex')).toEqual(lists.target.map((_, k) => k));
        expect(indices('playedIndex')).toEqual(lists.played.map((_, k) => k));
      }),
      each,
    );
  });
});

describe('what should not matter does not', () => {
  it.each([
    [
      'a shift of the take in time, own tempo',
      { clock: 'free' },
      (n: PlayedNote) => ({ ...n, onsetSec: n.onsetSec + 3.7 }),
    ],
    [
      'the tempo of the take, own tempo',
      { clock: 'free' },
      (n: PlayedNote) => ({ ...n, onsetSec: n.onsetSec * 1.37 }),
    ],
    [
      'the octave, where it is allowed',
      { clock: 'backing', transposition: 'octave' },
      (n: PlayedNote) => ({ ...n, midi: n.midi! - 12 }),
    ],
    [
      'the key, where any is allowed',
      { clock: 'free', transposition: 'any' },
      (n: PlayedNote) => ({ ...n, midi: n.midi! + 5 }),
    ],
  ] as const)('%s (seed 5)', (_, over, change) => {
    fc.assert(
      fc.property(take, (lists) => {
        const other = { ...lists, played: lists.played.map(change) };
        expect(Math.abs(marked(other, over) - marked(lists, over))).toBeLessThanOrEqual(TENTH);
      }),
      each,
    );
  });

  it('a transposition of both, a shift of both, the written tempo (own tempo), the order of the lists (seed 5)', () => {
    fc.assert(
      fc.property(take, clock, (lists, c) => {
        const both = (change: (n: PlayedNote) => PlayedNote): Lists => ({
          target: lists.target.map(change),
          played: lists.played.map(change),
        });
        const before = marked(lists, { clock: c });
        const up = marked(
          both((n) => ({ ...n, midi: n.midi! + 7 })),
          { clock: c },
        );
        const later = marked(
          both((n) => ({ ...n, onsetSec: n.onsetSec + 0.5 })),
          { clock: c },
        );
        expect(Math.abs(up - before)).toBeLessThanOrEqual(TENTH);
        expect(Math.abs(later - before)).toBeLessThanOrEqual(TENTH);
        expect(marked({ ...lists, played: [...lists.played].reverse() }, { clock: c })).toBe(before);
        if (c === 'backing') return;
        const slower = { ...lists, target: lists.target.map((n) => ({ ...n, onsetSec: n.onsetSec * 1.6 })) };
        expect(Math.abs(marked(slower, { clock: c }) - before)).toBeLessThanOrEqual(TENTH);
      }),
      each,
    );
  });

  it('pitch, in a rhythm (seed 5)', () => {
    fc.assert(
      fc.property(take, (lists) => {
        const bare = rhythmOf(lists);
        expect(marked({ ...bare, played: lists.played })).toBe(marked(bare));
      }),
      each,
    );
  });
});

describe('the mark has no edges', () => {
  const at = fc.integer({ min: 0, max: 15 });
  const sign = fc.constantFrom(-1, 1);
  const transposition = fc.constantFrom<Transposition>('none', 'octave', 'any');
  const latency = fc.constantFrom(0, 30, Infinity);
  /** Before it is shown to a tenth. */
  const unrounded = (request: MarkRequest): number => markOf(kindest(prepare(request), () => 1));
  const onePerMark = 1 + 1e-6;

  it.each(['backing', 'free'] as const)(
    '1 ms more on one note, or on all, costs at most 1, %s (seed 5)',
    (c) => {
      fc.assert(
        fc.property(
          take,
          at,
          sign,
          fc.boolean(),
          fc.boolean(),
          transposition,
          latency,
          (all, k, by, every, rhythm, t, ms) => {
            const lists = rhythm ? rhythmOf(all) : all;
            const request = { ...lists, clock: c, transposition: t, latencyUncertaintyMs: ms };
            const played = lists.played.map((n, j) =>
              every || j === k % lists.played.length ? { ...n, onsetSec: n.onsetSec + 0.001 * by } : n,
            );
            expect(unrounded(request) - unrounded({ ...request, played })).toBeLessThanOrEqual(onePerMark);
          },
        ),
        each,
      );
    },
  );

  it.each(['backing', 'free'] as const)(
    '1 cent more on one note, or on all, costs at most 1, %s (seed 5)',
    (c) => {
      fc.assert(
        fc.property(
          take,
          at,
          sign,
          fc.boolean(),
          transposition,
          fc.integer({ min: -150, max: 150 }),
          (lists, k, by, every, t, cents) => {
            const bent = (more: number): MarkRequest => ({
              target: lists.target,
              played: lists.played.map((n, j) =>
                every || j === k % lists.played.length ? { ...n, midi: n.midi! + (cents + more) / 100 } : n,
              ),
              clock: c,
              transposition: t,
            });
            expect(unrounded(bent(0)) - unrounded(bent(by))).toBeLessThanOrEqual(onePerMark);
          },
        ),
        each,
      );
    },
  );

  it('a whole take 1 ms earlier or later costs at most 1, up to half a second off the backing', () => {
    const target = [0, 1, 1.5, 2, 3, 3.5, 4, 5].map((beat, k) => ({ onsetSec: beat / 2, midi: 60 + k }));
    for (const lists of [{ target, played: target }, rhythmOf({ target, played: target })])
      for (const latencyUncertaintyMs of [0, 30, Infinity]) {
        const marks = Array.from({ length: 1000 }, (_, k) =>
          unrounded({
            target: lists.target,
            played: lists.played.map((n) => ({ ...n, onsetSec: n.onsetSec + (k - 500) / 1000 })),
            clock: 'backing',
            transposition: 'none',
            latencyUncertaintyMs,
          }),
        );
        const steps = marks.slice(1).map((x, k) => Math.abs(x - marks[k]!));
        expect(Math.max(...steps)).toBeLessThanOrEqual(onePerMark);
      }
  });

  // Half of the climbs begin with notes that have nothing to do with the phrase. Few notes, so that each is worth many
  // marks and many changes can be tried.
  const FEW = 5;
  it.each(['backing', 'free'] as const)(
    'climbing from take to worse take finds no 1 ms and no 1 cent that is worth more than 1, %s',
    (c) => {
      for (const seed of [1, 2, 3, 4, 5, 6, 7, 8])
        expect(climb(seed, c, 300, FEW).by).toBeLessThanOrEqual(onePerMark);
    },
    60_000,
  );

  it('notes that change places in time cost nothing at that instant, with up to six more close by (seed 5)', () => {
    fc.assert(
      fc.property(
        fc.oneof(take, wild),
        at,
        fc.array(fc.integer({ min: -50, max: 50 }), { maxLength: 6 }),
        clock,
        fc.constantFrom<Transposition>('none', 'octave'),
        (lists, k, close, c, t) => {
          const j = k % lists.played.length;
          const other = lists.played[(j + 1) % lists.played.length]!;
          const crowd = close.map((ms, x) => ({ onsetSec: other.onsetSec + ms / 1000, midi: 50 + 7 * x }));
          const near = (by: number): MarkRequest => ({
            target: lists.target,
            played: [
              ...lists.played.map((n) =>
                n === lists.played[j] ? { ...n, onsetSec: other.onsetSec + by } : n,
              ),
              ...crowd,
            ],
            clock: c,
            transposition: t,
          });
          expect(Math.abs(unrounded(near(-1e-6)) - unrounded(near(1e-6)))).toBeLessThanOrEqual(TENTH);
        },
      ),
      each,
    );
  });
});

describe('more or larger errors never raise the mark', () => {
  const clean = fc.tuple(phrase, fc.integer({ min: 0, max: 13 }));
  /** At one's own tempo the search may find a start and tempo a shade better than before. */
  const SHADE = 0.5;
  const falls = (marks: readonly number[], slack = SHADE): void => {
    for (let k = 1; k < marks.length; k++) expect(marks[k]).toBeLessThanOrEqual(marks[k - 1]! + slack);
  };
  const late = (target: readonly PlayedNote[], k: number, by: number): PlayedNote[] =>
    target.map((n, i) => (i === k % target.length ? { ...n, onsetSec: n.onsetSec + by } : n));

  it.each(['backing', 'free'] as const)('one note ever later, up to the next, %s (seed 5)', (c) => {
    fc.assert(
      fc.property(clean, ([target, k]) => {
        falls(
          [0, 0.03, 0.06, 0.09, 0.12, 0.145].map((by) =>
            marked({ target, played: late(target, k, by) }, { clock: c }),
          ),
        );
      }),
      each,
    );
  });

  it('the whole take ever later or earlier against the backing (seed 5)', () => {
    fc.assert(
      fc.property(phrase, fc.constantFrom(-1, 1), fc.boolean(), (target, sign, rhythm) => {
        falls(
          [0, 0.02, 0.05, 0.08, 0.11, 0.14].map((by) => {
            const lists = { target, played: target.map((n) => ({ ...n, onsetSec: n.onsetSec + sign * by })) };
            return marked(rhythm ? rhythmOf(lists) : lists);
          }),
        );
      }),
      each,
    );
  });

  it.each(['backing', 'free'] as const)(
    'one, two, three … notes wrong by a tritone, then left out, %s (seed 5)',
    (c) => {
      fc.assert(
        fc.property(phrase, (target) => {
          // Own tempo: with most notes wrong nothing is left to find the tempo by, so that half of them is the limit.
          const most = c === 'free' ? target.slice(target.length / 2) : target;
          const wrong = most.map((_, count) =>
            marked(
              {
                target,
                played: target.map((n, i) => (i < count ? { ...n, midi: n.midi + (i % 2 ? 6 : -6) } : n)),
              },
              { clock: c },
            ),
          );
          falls(wrong);
          falls(
            target
              .slice(1)
              .map((_, count) =>
                marked({ target, played: target.slice(0, target.length - count) }, { clock: c }),
              ),
          );
        }),
        each,
      );
    },
  );

  it('early and late alike, one note, but for the lead that is free (seed 5)', () => {
    fc.assert(
      fc.property(clean, fc.integer({ min: 0, max: 140 }), ([target, k], ms) => {
        const by = ms / 1000;
        const plus = marked({ target, played: late(target, k, by) });
        const minus = marked({ target, played: late(target, k, -by) });
        // The lead tried: 20 ms of a ramp of 200, of three quarters of one note.
        const lead = ((20 / 200) * 0.75 * 100) / target.length;
        expect(minus).toBeGreaterThanOrEqual(plus - TENTH);
        expect(minus - plus).toBeLessThanOrEqual(lead + TENTH);
      }),
      each,
    );
  });
});
