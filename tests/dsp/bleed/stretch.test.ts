import { describe, expect, it } from 'vitest';
import { comparedStretches, heardParts, learntStretch, sparser } from '../../../src/dsp/bleed/stretch.ts';

const RATE = 100;
/** Seconds of a level each. */
const sent = (...parts: readonly (readonly [seconds: number, level: number])[]): Float64Array =>
  Float64Array.from(
    parts.flatMap(([seconds, level]) =>
      Array.from({ length: seconds * RATE }, (_, n) => (n % 2 ? level : -level)),
    ),
  );

describe('what of a take is learnt from', () => {
  it('is all of it up to a minute and a half, also where less was sent than was recorded', () => {
    expect(learntStretch(sent([90, 1]), RATE)).toEqual({ from: 0, to: 90 * RATE });
    expect(learntStretch(sent([20, 1]), RATE, 70 * RATE)).toEqual({ from: 0, to: 70 * RATE });
  });

  it('is the loudest minute of a longer one, wherever it is', () => {
    const quiet = [100, 0.1] as const;
    expect(learntStretch(sent(quiet, [60, 1], quiet), RATE)).toEqual({ from: 100 * RATE, to: 160 * RATE });
    expect(learntStretch(sent(quiet, [60, 1]), RATE)).toEqual({ from: 100 * RATE, to: 160 * RATE });
    expect(learntStretch(sent([60, 1], quiet), RATE)).toEqual({ from: 0, to: 60 * RATE });
  });

  it('lies inside what was recorded', () => {
    expect(learntStretch(sent([100, 0.1], [60, 1]), RATE, 110 * RATE).to).toBeLessThanOrEqual(110 * RATE);
  });

  it('takes more steps as one the longer the take is', () => {
    expect([10, 90, 130, 180, 300, 900].map((seconds) => sparser(seconds * RATE, RATE))).toEqual([
      1, 1, 1, 2, 3, 10,
    ]);
  });
});

describe('where a take is compared with what was sent', () => {
  it('is all of it up to a minute and a half', () => {
    expect(comparedStretches(90 * RATE, RATE)).toEqual([{ from: 0, to: 90 * RATE }]);
  });

  it('is from end to end of a longer one, in stretches of two seconds', () => {
    const stretches = comparedStretches(300 * RATE, RATE);
    expect(stretches[0]!.from).toBe(0);
    expect(stretches.at(-1)!.to).toBeGreaterThan(299 * RATE);
    expect(stretches.at(-1)!.to).toBeLessThanOrEqual(300 * RATE);
    expect(new Set(stretches.map(({ from, to }) => to - from))).toEqual(new Set([2 * RATE]));
  });
});

describe('the parts in which a take is heard', () => {
  it('are one up to a minute and a half', () => {
    const to = 90 * RATE;
    expect(heardParts(to, RATE)).toEqual([{ from: 0, to, first: 0, last: to }]);
  });

  it('join without a gap in a longer one, each with what lies around it as far as there is any', () => {
    for (const length of [91, 100, 101, 300.5].map((seconds) => seconds * RATE)) {
      const parts = heardParts(length, RATE);
      expect(parts[0]).toMatchObject({ from: 0, first: 0 });
      expect(parts.at(-1)).toMatchObject({ to: length, last: length });
      parts.slice(1).forEach((part, i) => {
        const before = parts[i]!;
        expect(part.from).toBe(before.to);
        expect(part.from - part.first).toBeGreaterThan(0);
        expect(before.last).toBeGreaterThan(before.to);
        expect(before.last).toBeLessThanOrEqual(length);
      });
    }
  });
});
