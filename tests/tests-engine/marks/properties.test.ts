import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { markTake, type Clock, type MarkRequest, type PlayedNote } from '../../../src/tests-engine/index.ts';
import { lostSum } from './takes.ts';

/** Phrases of 4…14 notes on a semiquaver grid at 100 bpm, and takes of them with errors of every kind. */
const GRID = 0.15;
const gaps = fc.array(fc.constantFrom(1, 2, 2, 2, 3, 4), { minLength: 3, maxLength: 13 });
const phrase = fc
  .tuple(gaps, fc.array(fc.integer({ min: 48, max: 72 }), { minLength: 14, maxLength: 14 }))
  .map(([steps, pitches]) => {
    let at = 0;
    return [0, ...steps].map((step, k) => ({ onsetSec: (at += step * GRID), midi: pitches[k] }));
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
      onsetSec: n.onsetSec + errs[k].ms / 1000,
      midi: n.midi + errs[k].semitones,
      left: errs[k].left,
    }))
    .filter((n, k) => k === 0 || !n.left)
    .map(({ onsetSec, midi }): PlayedNote => ({ onsetSec, midi })),
}));
/** Takes as students play them, without the wildest: what the search for a tempo is judged on. */
const tame = fc.tuple(phrase, errors).map(([target, errs]) => ({
  target,
  played: target.map((n, k): PlayedNote => ({
    onsetSec: n.onsetSec + errs[k].ms / 2500,
    midi: n.midi + (errs[k].left ? errs[k].semitones : 0),
  })),
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
  const at = fc.integer({ min: 0, max: 13 });
  it.each(['backing', 'free'] as const)('1 ms more on one note costs at most 1, %s (seed 5)', (c) => {
    fc.assert(
      fc.property(
        c === 'free' ? tame : take,
        at,
        fc.constantFrom(-0.001, 0.001),
        fc.boolean(),
        (all, k, by, rhythm) => {
          const lists = rhythm ? rhythmOf(all) : all;
          const moved = {
            ...lists,
            played: lists.played.map((n, j) =>
              j === k % lists.played.length ? { ...n, onsetSec: n.onsetSec + by } : n,
            ),
          };
          expect(marked(lists, { clock: c }) - marked(moved, { clock: c })).toBeLessThanOrEqual(1 + TENTH);
        },
      ),
      { ...each, numRuns: 400 },
    );
  });

  it('1 ms more on every note costs at most 1, against the backing (seed 5)', () => {
    fc.assert(
      fc.property(take, fc.constantFrom(-0.001, 0.001), fc.boolean(), (all, by, rhythm) => {
        const lists = rhythm ? rhythmOf(all) : all;
        const moved = { ...lists, played: lists.played.map((n) => ({ ...n, onsetSec: n.onsetSec + by })) };
        expect(marked(lists) - marked(moved)).toBeLessThanOrEqual(1 + TENTH);
      }),
      { ...each, numRuns: 400 },
    );
  });

  it.each(['none', 'any'] as const)(
    '1 cent more on one note or all costs at most 1, transposition %s (seed 5)',
    (transposition) => {
      fc.assert(
        fc.property(
          transposition === 'any' ? tame : take,
          at,
          fc.boolean(),
          fc.integer({ min: -150, max: 150 }),
          (lists, k, every, cents) => {
            const bent = (by: number): Lists => ({
              ...lists,
              played: lists.played.map((n, j) =>
                every || j === k % lists.played.length ? { ...n, midi: n.midi! + by / 100 } : n,
              ),
            });
            expect(
              marked(bent(cents), { transposition }) - marked(bent(cents + 1), { transposition }),
            ).toBeLessThanOrEqual(1 + TENTH);
          },
        ),
        { ...each, numRuns: 400 },
      );
    },
  );
});

describe('more or larger errors never raise the mark', () => {
  const clean = fc.tuple(phrase, fc.integer({ min: 0, max: 13 }));
  /** At one's own tempo the search may find a start and tempo a shade better than before. */
  const SHADE = 0.5;
  const falls = (marks: readonly number[], slack = SHADE): void => {
    for (let k = 1; k < marks.length; k++) expect(marks[k]).toBeLessThanOrEqual(marks[k - 1] + slack);
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

  it('early and late alike, one note (seed 5)', () => {
    fc.assert(
      fc.property(clean, fc.integer({ min: 0, max: 140 }), ([target, k], ms) => {
        const by = ms / 1000;
        const plus = marked({ target, played: late(target, k, by) });
        const minus = marked({ target, played: late(target, k, -by) });
        expect(Math.abs(plus - minus)).toBeLessThanOrEqual(TENTH);
      }),
      each,
    );
  });
});
