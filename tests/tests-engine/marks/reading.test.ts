import { describe, expect, it } from 'vitest';
import { findTake, markTake, readingPlaces, type ReadingEvent } from '../../../src/tests-engine/index.ts';

/** Eight bars of 4/4 at 60 crotchets a minute, no two bars alike. */
const BEAT = 1;
const BARS: readonly (readonly (readonly [beat: number, midi: number])[])[] = [
  [
    [0, 52],
    [1, 55],
    [2, 57],
    [3, 59],
  ],
  [
    [0, 60],
    [1, 59],
    [2, 57],
  ],
  [
    [0, 55],
    [0.5, 57],
    [1, 59],
    [2, 62],
    [3, 60],
  ],
  [
    [0, 59],
    [2, 54],
  ],
  [
    [0, 52],
    [1, 54],
    [2, 55],
    [3, 57],
  ],
  [
    [0, 62],
    [1, 60],
    [2, 59],
    [3, 55],
  ],
  [
    [0, 57],
    [0.5, 55],
    [1, 54],
    [2, 57],
    [3, 54],
  ],
  [[0, 52]],
];
const PAGE = BARS.flatMap((bar, b) => bar.map(([beat, midi]) => ({ onsetSec: (4 * b + beat) * BEAT, midi })));
const barOf = (i: number): number => Math.floor(PAGE[i]!.onsetSec / 4);
const request = (played: readonly { onsetSec: number; midi: number }[]) =>
  ({ target: PAGE, played, clock: 'free', transposition: 'none', beatSec: BEAT, beatsPerBar: 4 }) as const;
const later = (by: number, notes = PAGE) => notes.map((n) => ({ ...n, onsetSec: n.onsetSec + by }));

function events(
  played: readonly { onsetSec: number; midi: number }[],
  clock: 'free' | 'backing' = 'free',
): readonly ReadingEvent[] {
  const mark = markTake({ ...request(played), clock });
  return readingPlaces({
    target: PAGE,
    played,
    mark,
    beatSec: BEAT,
    beatsPerBar: 4,
    feltBeatSec: BEAT,
    bars: 8,
  });
}

describe('the take among all that was played', () => {
  it('is all of it where nothing else was played', () => {
    const found = findTake(request(later(3)));
    expect([found.from, found.to, found.falseStarts, found.mark.mark]).toEqual([0, PAGE.length, 0, 100]);
  });

  it('leaves out tuning notes before it and noodling after it', () => {
    const tuning = [40, 45, 50, 64].map((midi, k) => ({ onsetSec: k * 1.3, midi }));
    const after = [64, 65, 67].map((midi, k) => ({ onsetSec: 60 + k, midi }));
    const found = findTake(request([...tuning, ...later(10), ...after]));
    expect([found.from, found.to, found.falseStarts, found.mark.mark]).toEqual([4, 4 + PAGE.length, 0, 100]);
    expect(found.mark.verdicts.every((v) => v.playedIndex !== null && v.playedIndex >= 4)).toBe(true);
  });

  it('costs nothing for one false start, nor for two', () => {
    const tried = later(1).slice(0, 3);
    const once = findTake(request([...tried, ...later(7.5)]));
    expect([once.from, once.falseStarts, once.mark.mark]).toEqual([3, 1, 100]);
    const twice = findTake(request([...tried, ...later(7.5).slice(0, 2), ...later(13)]));
    expect([twice.from, twice.falseStarts, twice.mark.mark]).toEqual([5, 2, 100]);
  });

  it('counts beginning again at once as a restart', () => {
    const found = findTake(request([...later(1).slice(0, 6), ...later(8)]));
    expect([found.from, found.falseStarts]).toEqual([0, 0]);
    expect(found.mark.mark).toBeLessThan(100);
    expect(found.mark.readings.map(({ code }) => code)).toContain('restarted');
  });

  it('counts beginning again after more than a bar as a restart, however long the silence', () => {
    const found = findTake(request([...later(1).slice(0, 9), ...later(25)]));
    expect([found.from, found.falseStarts]).toEqual([0, 0]);
    expect(found.mark.mark).toBeLessThan(100);
  });

  it('never gives a lower mark for a false start', () => {
    const wrong = later(0).map((n, k) => (k === 9 ? { ...n, midi: n.midi + 1 } : n));
    const alone = findTake(request(wrong)).mark.mark!;
    for (let few = 1; few <= 4; few++)
      for (const silence of [2.5, 4, 8]) {
        const again = PAGE[few - 1]!.onsetSec + 1 + silence;
        const found = findTake(request([...PAGE.slice(0, few), ...later(again, wrong)]));
        expect(found.mark.mark, `${few} notes, ${silence} beats`).toBeGreaterThanOrEqual(alone);
      }
  });

  it('finds nothing to mark where nothing was played', () => {
    expect(findTake(request([])).mark).toMatchObject({ mark: null, reason: 'nothing-played' });
  });
});

describe.each(['free', 'backing'] as const)('what happened where, clock %s', (clock) => {
  it('says nothing of a clean take', () => {
    expect(events(PAGE, clock)).toEqual([]);
  });

  it.each([2, 3, 5, 6, 7])('names a stop of two beats before bar %i', (bar) => {
    const played = PAGE.map((n, i) => (barOf(i) + 1 >= bar ? { ...n, onsetSec: n.onsetSec + 2 * BEAT } : n));
    expect(events(played, clock)).toEqual([{ kind: 'stopped', bar, beat: 1, beats: 2 }]);
  });

  it.each([2, 3, 5, 6])('names bar %i where it was gone back to', (bar) => {
    const first = PAGE.findIndex((_, i) => barOf(i) + 1 === bar);
    const again = PAGE[first + 1]!.onsetSec - PAGE[first]!.onsetSec + 1.6;
    const played = [...PAGE.slice(0, first + 2), ...later(again).slice(first)];
    expect(events(played, clock)).toEqual([{ kind: 'wentBack', bar, fromBar: bar }]);
  });

  it.each([2, 3, 4, 5, 6, 7])('names bar %i where it was left out', (bar) => {
    const played = PAGE.filter((_, i) => barOf(i) + 1 !== bar).map((n) =>
      clock === 'free' && n.onsetSec >= 4 * bar ? { ...n, onsetSec: n.onsetSec - 4 * BEAT } : n,
    );
    expect(events(played, clock)).toContainEqual({ kind: 'leftOut', bar, toBar: bar });
  });
});

describe('tempo of one’s own', () => {
  it.each([-15, -10, 10, 15])('that changes by %i percent over the page is named', (percent) => {
    const total = PAGE.at(-1)!.onsetSec;
    const k = percent / 100 / total;
    const played = PAGE.map((n) => ({ ...n, onsetSec: Math.log1p(k * n.onsetSec) / k }));
    const told = events(played);
    expect(told).toHaveLength(1);
    expect(told[0]).toMatchObject({ kind: 'drifted' });
    const found = (told[0] as { percent: number }).percent;
    expect(Math.abs(found - percent)).toBeLessThan(4);
  });

  it('that is held says nothing, whatever it is', () => {
    for (const factor of [0.7, 0.9, 1.2])
      expect(events(PAGE.map((n) => ({ ...n, onsetSec: n.onsetSec * factor })))).toEqual([]);
  });

  it('names the bar reached where the page was not played to its end', () => {
    expect(events(PAGE.slice(0, 16))).toContainEqual({ kind: 'ended', bar: 5 });
  });
});

describe('a bar left out at one’s own tempo', () => {
  type Written = readonly (readonly [bar: number, beat: number, midi: number])[];
  const on = (written: Written) =>
    written.map(([bar, beat, midi]) => ({ onsetSec: (4 * (bar - 1) + beat - 1) * BEAT, midi }));
  /** All of a page but one bar, the next at once. */
  const without = (written: Written, bar: number) =>
    on(
      written.filter(([b]) => b !== bar).map(([b, beat, midi]) => [b > bar ? b - 1 : b, beat, midi] as const),
    );
  const told = (written: Written, played: readonly { onsetSec: number; midi: number }[]) => {
    const target = on(written);
    const mark = markTake({ ...request(played), target });
    const order = { target, played, mark, beatSec: BEAT, beatsPerBar: 4, feltBeatSec: BEAT };
    return readingPlaces({ ...order, bars: Math.max(...written.map(([b]) => b)) });
  };
  const OPENING: Written = [
    ...[52, 55, 57, 59].map((midi, k) => [1, k + 1, midi] as const),
    ...[60, 59, 57].map((midi, k) => [2, k + 1, midi] as const),
  ];
  const CLOSE: Written = [
    ...[55, 57, 54].map((midi, k) => [5, k + 1, midi] as const),
    ...[53, 50, 52].map((midi, k) => [6, k + 1, midi] as const),
  ];
  /** Bars 3 and 4 hold the same notes in another rhythm, one of them put in between. */
  const ALIKE: Written = [
    ...OPENING,
    ...(
      [
        [1, 62],
        [1.5, 67],
        [2.5, 63],
        [3.5, 62],
      ] as const
    ).map(([beat, midi]) => [3, beat, midi] as const),
    ...(
      [
        [1, 62],
        [2.5, 63],
        [3, 62],
      ] as const
    ).map(([beat, midi]) => [4, beat, midi] as const),
    ...CLOSE,
  ];

  it.each([3, 4])('is bar %i of two that hold the same notes in another rhythm', (bar) => {
    expect(told(ALIKE, without(ALIKE, bar))).toEqual([{ kind: 'leftOut', bar, toBar: bar }]);
  });

  it('is the last bar but one where the last note is an octave over its first', () => {
    const written: Written = [...OPENING, [3, 1, 53], [3, 2.5, 57], [3, 3, 64], [4, 1, 65]];
    expect(told(written, without(written, 3))).toEqual([{ kind: 'leftOut', bar: 3, toBar: 3 }]);
  });

  it('is none where as many notes were missed here and there, and the rest in time', () => {
    for (const missed of [
      ['3.1.5', '3.3.5', '4.1', '4.2.5'],
      ['3.1', '3.1.5', '3.2.5', '4.1'],
    ]) {
      const played = on(ALIKE.filter(([bar, beat]) => !missed.includes(`${bar}.${beat}`)));
      const most = missed.filter((at) => at.startsWith('3.')).length;
      expect(told(ALIKE, played)).toEqual(most >= 3 ? [{ kind: 'leftOut', bar: 3, toBar: 3 }] : []);
    }
  });
});

describe('a bar left out', () => {
  /** Bars 3 and 4 begin with the same two notes: what is missing may be read as the rest of bar 3 and the head of bar 4. */
  const target = [60, 62, 64, 65, 67, 65, 64, 62, 55, 57, 59, 60, 55, 57, 52, 53, 50, 52, 53, 48].map(
    (midi, k) => ({
      onsetSec: k * BEAT,
      midi,
    }),
  );
  const told = (played: readonly { onsetSec: number; midi: number }[]): readonly ReadingEvent[] =>
    readingPlaces({
      target,
      played,
      mark: {
        ...markTake({ ...request(played), target }),
        // The reading that keeps bar 3's first two notes.
        verdicts: target.flatMap((_, i) => {
          const j = i < 10 ? i : i - 4;
          const missed = i >= 10 && i < 14;
          const verdict = { errorMs: 0, errorSemitones: 0, unclear: false, targetIndex: i };
          return [
            missed
              ? { ...verdict, kind: 'missed' as const, playedIndex: null }
              : { ...verdict, kind: 'right' as const, playedIndex: j },
          ];
        }),
      },
      beatSec: BEAT,
      beatsPerBar: 4,
      feltBeatSec: BEAT,
      bars: 5,
    });

  it('is named as a bar where the missing notes may as well be read across its bar line', () => {
    const played = target
      .filter((_, i) => i < 8 || i >= 12)
      .map(({ midi }, k) => ({ midi, onsetSec: k * BEAT }));
    expect(told(played)).toEqual([{ kind: 'leftOut', bar: 3, toBar: 3 }]);
  });
});
