import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Metre, Phrase } from '../../src/music/score.ts';
import { midi, ticks } from '../../src/music/units.ts';
import { barShape } from '../../src/notation/bar.ts';
import { notate } from '../../src/notation/notation.ts';
import type { Sign } from '../../src/notation/types.ts';
import { writtenValue } from '../../src/notation/values.ts';

const METRES: Record<string, Metre> = {
  '4/4': { beats: 4, beatUnit: 4, grouping: [1, 1, 1, 1] },
  '3/4': { beats: 3, beatUnit: 4, grouping: [1, 1, 1] },
  '6/8': { beats: 6, beatUnit: 8, grouping: [3, 3] },
  '12/8': { beats: 12, beatUnit: 8, grouping: [3, 3, 3, 3] },
  '5/4': { beats: 5, beatUnit: 4, grouping: [3, 2] },
  '7/8': { beats: 7, beatUnit: 8, grouping: [2, 2, 3] },
};

/** Durations in ticks; a negative one is a rest. */
function phrase(metre: Metre, bars: number, durations: readonly number[]): Phrase {
  let at = 0;
  const notes: Phrase['notes'][number][] = [];
  for (const duration of durations) {
    if (duration > 0)
      notes.push({
        startTicks: ticks(at),
        durationTicks: ticks(duration),
        midi: midi(57),
        spelling: 'A3',
        string: 3,
        fret: 2,
      });
    at += Math.abs(duration);
  }
  return { metre, bars, notes };
}

/** "q", "8.", "rest h", "q~" for a tie to the next. */
const word = (s: Sign): string =>
  `${s.kind === 'rest' ? 'r' : ''}${s.value}${s.dots ? '.' : ''}${s.tiedToNext ? '~' : ''}`;
const written = (metre: string, ...durations: number[]): string =>
  notate(phrase(METRES[metre]!, 1, durations))[0]!
    .map(word)
    .join(' ');

describe('notate', () => {
  it('writes values, dots and rests as they stand in print', () => {
    expect(written('4/4', 480, 720, 240, -480)).toBe('q q~ 8 8 rq');
    expect(written('4/4', 720, 240, 960)).toBe('q. 8 h');
    expect(written('4/4', 480, 960, 480)).toBe('q h q');
    expect(written('4/4', 240, 480, 240, 480, 480)).toBe('8 q 8 q q');
    expect(written('4/4', -1920)).toBe('rw');
    expect(written('4/4', 480, -480, -960)).toBe('q rq rh');
    expect(written('4/4', 480, -960, 480)).toBe('q rq rq q');
    expect(written('3/4', 480, -960)).toBe('q rq rq');
    expect(written('3/4', 1440)).toBe('h.');
    expect(written('6/8', 480, 240, 360, 120, 240)).toBe('q 8 8. 16 8');
    expect(written('6/8', 240, 960, 240)).toBe('8 q~ q 8');
    expect(written('12/8', 1440, 1440)).toBe('h. h.');
    expect(written('6/8', -480, 240, 240, -480)).toBe('rq 8 8 r8 r8');
    expect(written('4/4', -320, 160, 480, 960)).toBe('rq 8 q h');
    expect(written('5/4', -1440, 960)).toBe('rq rq rq h');
    expect(written('12/8', -1440, 1440)).toBe('rh. h.');
    expect(written('7/8', 480, 480, 720)).toBe('q q q.');
    expect(written('7/8', 240, 480, 240, 720)).toBe('8 8~ 8 8 q.');
    expect(written('5/4', 960, 960, 480)).toBe('h q~ q q');
  });

  it('keeps the middle of 4/4 visible under a syncopation', () => {
    expect(written('4/4', 240, 480, 480, 480, 240)).toBe('8 q 8~ 8 q 8');
  });

  it('ties a note over the bar line', () => {
    const bars = notate(phrase(METRES['4/4']!, 2, [1440, 960, 1440]));
    expect(bars.map((bar) => bar.map(word).join(' '))).toEqual(['h. q~', 'q h.']);
    expect(bars[1]![0]!.tiedFromPrevious).toBe(true);
  });

  it('writes three in a beat, and three over two beats, as triplets', () => {
    const [bar] = notate(phrase(METRES['4/4']!, 1, [160, 160, 160, 320, 160, 320, 320, 320]));
    expect(bar!.map((s) => `${word(s)}:${s.tuplet}`)).toEqual([
      '8:0',
      '8:0',
      '8:0',
      'q:1',
      '8:1',
      'q:2',
      'q:2',
      'q:2',
    ]);
  });

  it('beams quavers by the half bar in 4/4, by the beat in 6/8, and mixed values by the beat', () => {
    const beams = (metre: string, ...durations: number[]) =>
      notate(phrase(METRES[metre]!, 1, durations))[0]!.map((s) => s.beam);
    expect(beams('4/4', 240, 240, 240, 240, 240, 240, 480)).toEqual([0, 0, 0, 0, 1, 1, null]);
    expect(beams('6/8', 240, 240, 240, 240, 240, 240)).toEqual([0, 0, 0, 1, 1, 1]);
    expect(beams('4/4', 240, 120, 120, 240, 240, 960)).toEqual([0, 0, 0, 1, 1, null]);
    expect(beams('3/4', 240, 240, 240, 240, 240, 240)).toEqual([0, 0, 0, 0, 0, 0]);
  });

  it('fills every bar exactly with writable values and keeps every note whole, in each metre (200 phrases each)', () => {
    for (const metre of Object.values(METRES)) {
      const bar = barShape(metre).ticks;
      fc.assert(
        fc.property(fc.array(fc.integer({ min: -8, max: 12 }), { maxLength: 40 }), (raw) => {
          const steps = raw.filter((n) => n !== 0).map((n) => n * 120);
          let total = 0;
          const durations = steps.flatMap((step) => {
            const room = 2 * bar - total;
            if (room <= 0) return [];
            const length = Math.min(room, Math.abs(step));
            total += length;
            return [Math.sign(step) * length];
          });
          const target = phrase(metre, 2, durations);
          const bars = notate(target);
          for (const signs of bars) {
            expect(signs.reduce((sum, s) => sum + s.durationTicks, 0)).toBe(bar);
            for (const s of signs)
              if (!s.wholeBar)
                expect(
                  writtenValue(s.durationTicks),
                  `${s.durationTicks} ticks at ${s.startTicks}`,
                ).not.toBeNull();
          }
          const all = bars.flat();
          target.notes.forEach((note, i) => {
            const own = all.filter((s) => s.noteIndex === i);
            expect(own[0]!.startTicks).toBe(note.startTicks);
            expect(own.reduce((sum, s) => sum + s.durationTicks, 0)).toBe(note.durationTicks);
            expect(own.map((s) => s.tiedToNext)).toEqual(own.map((_, k) => k < own.length - 1));
          });
        }),
        { numRuns: 200, seed: 20261124 },
      );
    }
  });

  it('refuses a metre whose grouping does not fill the bar', () => {
    expect(() => notate(phrase({ beats: 7, beatUnit: 8, grouping: [2, 2] }, 1, []))).toThrow(
      /7\/8: grouping 2\+2 does not fill the bar/,
    );
  });
});
