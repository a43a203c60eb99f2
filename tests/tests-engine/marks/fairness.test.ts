import { describe, expect, it } from 'vitest';
import { markTake } from '../../../src/tests-engine/index.ts';
import { random } from '../../bench/marks/stats.ts';
import { BEAT, codes, faults, mark, moved, TUNE } from './takes.ts';

/** Standard normal (Box and Muller 1958). */
const normal = (next: () => number): number =>
  Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());

describe('what is not the student’s doing', () => {
  it('a steady lead of up to 30 ms costs nothing, 150 ms does', () => {
    expect(mark(moved(0, 12, -0.03)).mark).toBe(100);
    expect(mark(moved(0, 12, -0.15)).mark).toBeLessThan(95);
  });

  it.each([20, 60, 120])('a constant lag inside a latency uncertainty of %i ms costs nothing', (ms) => {
    expect(mark(moved(0, 12, ms / 1000), { latencyUncertaintyMs: ms }).mark).toBe(100);
  });

  it('an unmeasured latency takes out a constant lag, but not unevenness', () => {
    const lag = moved(0, 12, 0.2);
    expect(mark(lag, { latencyUncertaintyMs: Infinity }).mark).toBe(100);
    const scattered = lag.map((n, k) => ({ ...n, onsetSec: n.onsetSec + (k % 2 ? 0.15 : -0.15) }));
    expect(mark(scattered, { latencyUncertaintyMs: Infinity }).mark).toBeLessThan(95);
  });

  it('an instrument 40 cents flat as a whole costs nothing', () => {
    expect(mark(TUNE.map((n) => ({ ...n, midi: n.midi - 0.4 }))).mark).toBe(100);
  });

  it('a note not heard clearly is not called wrong', () => {
    const m = mark(TUNE.map((n, k) => (k === 4 ? { ...n, midi: 66, confidence: 0.3 } : n)));
    expect(faults(m)).toEqual([]);
    expect(m.verdicts.find((v) => v.targetIndex === 4)!.unclear).toBe(true);
    expect(codes(m)).toContain('unclear');
  });

  it('unclear notes that could move the mark by more than 5 make it a range that holds the mark', () => {
    const m = mark(TUNE.map((n, k) => (k === 4 || k === 8 ? { ...n, midi: 61, confidence: 0.5 } : n)));
    expect(m.range).not.toBeNull();
    expect(m.range![1] - m.range![0]).toBeGreaterThan(5);
    expect(m.mark).toBeGreaterThanOrEqual(m.range![0]);
    expect(m.mark).toBeLessThanOrEqual(m.range![1]);
  });

  it('unclear notes that could make it anything give no mark', () => {
    const m = mark(TUNE.map((n, k) => (k < 8 ? { ...n, midi: 50 + k, confidence: 0.4 } : n)));
    expect(m).toMatchObject({ mark: null, reason: 'unclear', outcome: null });
  });

  it('unclear notes that were right anyway change nothing', () => {
    expect(mark(TUNE.map((n) => ({ ...n, confidence: 0.45 })))).toMatchObject({ mark: 100, range: null });
  });

  it('nothing played is no mark, never 0', () => {
    expect(mark([])).toMatchObject({ mark: null, reason: 'nothing-played' });
    expect(markTake({ target: [], played: TUNE, clock: 'free', transposition: 'none' })).toMatchObject({
      mark: null,
      reason: 'no-target',
    });
  });

  it('a good player (s.d. 15 ms, lead 20 ms) has at least 98 % of notes right over 300 takes, seed 11', () => {
    const next = random(11);
    let right = 0;
    for (let take = 0; take < 300; take++) {
      const m = mark(TUNE.map((n) => ({ ...n, onsetSec: n.onsetSec - 0.02 + 0.015 * normal(next) })));
      right += m.verdicts.filter((v) => v.kind === 'right').length;
    }
    expect(right / (300 * TUNE.length)).toBeGreaterThanOrEqual(0.98);
  });

  it('the same good player on semiquavers at 120 bpm too, seed 12', () => {
    const next = random(12);
    const target = TUNE.map((n, k) => ({ ...n, onsetSec: k * 0.125 }));
    let right = 0;
    for (let take = 0; take < 300; take++) {
      const played = target.map((n) => ({ ...n, onsetSec: n.onsetSec - 0.02 + 0.015 * normal(next) }));
      right += mark(played, { target }).verdicts.filter((v) => v.kind === 'right').length;
    }
    expect(right / (300 * TUNE.length)).toBeGreaterThanOrEqual(0.98);
  });

  it('swung off-beats have a wider limit', () => {
    const target = TUNE.map((n) => ({ ...n, swungOffBeat: (n.onsetSec / BEAT) % 1 !== 0 }));
    const played = target.map((n) => ({ ...n, onsetSec: n.onsetSec + (n.swungOffBeat ? 0.09 : 0) }));
    const plain = played.map(({ onsetSec, midi }) => ({ onsetSec, midi }));
    expect(mark(plain, { target }).mark).toBe(100);
    expect(mark(plain).mark).toBeLessThan(100);
  });

  it('beginners get a wider ramp than level 5', () => {
    const played = moved(4, 5, 0.2);
    expect(mark(played, { level: 1 }).mark!).toBeGreaterThan(mark(played, { level: 5 }).mark!);
  });

  it('the teacher’s thresholds decide the word, not the mark', () => {
    const played = TUNE.slice(0, 6);
    expect(mark(played).outcome).toBe('not-yet');
    expect(mark(played, { thresholds: { there: 50, close: 20 } })).toMatchObject({
      mark: 50,
      outcome: 'there',
    });
  });
});
