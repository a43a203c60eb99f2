import { describe, expect, it } from 'vitest';
import { makeRandom } from '../../../audio-fixtures/random.ts';
import { tripFromNotes } from '../../../src/dsp/latency/index.ts';

const CLICKS = [2.4, 3.0, 3.6, 4.2];
const played = (seed: number, tripSec: number, spreadSec: number): number[] => {
  const random = makeRandom(seed);
  return CLICKS.map((click) => click + tripSec + spreadSec * random.normal());
};

describe('the round trip from four notes played with a click', () => {
  it('is exact for a machine, with what a habit leaves unknown', () => {
    const trip = tripFromNotes(CLICKS, played(1, 0.094, 0))!;
    expect(trip.sec).toBeCloseTo(0.094, 9);
    expect(trip.halfWidthSec).toBeCloseTo(0.01, 9);
  });
  it('holds the truth inside its half-width in 95 of 100 players of 5 to 20 ms spread, wherever it answers', () => {
    let inside = 0;
    let answered = 0;
    for (let seed = 0; seed < 400; seed++) {
      const random = makeRandom(seed + 5000);
      const tripSec = random.between(0.01, 0.35);
      const trip = tripFromNotes(CLICKS, played(seed, tripSec, random.between(0.005, 0.02)));
      if (!trip) continue;
      answered++;
      if (Math.abs(trip.sec - tripSec) <= trip.halfWidthSec) inside++;
    }
    expect(answered).toBeGreaterThan(320);
    expect(inside / answered).toBeGreaterThanOrEqual(0.95);
  });
  it('is wider for an uneven player', () => {
    const even = tripFromNotes(CLICKS, [2.5, 3.1, 3.7, 4.3])!;
    const uneven = tripFromNotes(CLICKS, [2.49, 3.112, 3.695, 4.305])!;
    expect(uneven.halfWidthSec).toBeGreaterThan(even.halfWidthSec + 0.005);
  });
  it('looks past notes that were not asked for, in any order', () => {
    const trip = tripFromNotes(CLICKS, [4.29, 0.7, 3.09, 3.4, 2.49, 3.69, 4.9])!;
    expect(trip.sec).toBeCloseTo(0.09, 9);
  });
  it('says nothing for a note left out, for notes beside the click, and for nothing', () => {
    expect(tripFromNotes(CLICKS, [2.5, 3.1, 4.3])).toBeNull();
    expect(tripFromNotes(CLICKS, [2.5, 3.25, 3.5, 4.45])).toBeNull();
    expect(
      tripFromNotes(
        CLICKS,
        CLICKS.map((click, i) => click + 0.1 + (i % 2 ? 0.045 : -0.045)),
      ),
    ).toBeNull();
    expect(tripFromNotes(CLICKS, [])).toBeNull();
  });
  it('refuses another number of clicks', () => {
    expect(() => tripFromNotes([1, 2], [1, 2])).toThrow(RangeError);
  });
});
