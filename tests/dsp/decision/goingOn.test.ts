import { describe, expect, it } from 'vitest';
import { GOING_ON, goingOn } from '../../../src/dsp/decision/goingOn.ts';
import type { Prepared } from '../../../src/dsp/signal/prepared.ts';
import { LOWEST } from '../../../src/dsp/pitch/salience.ts';
import { noiseSource } from '../bleed/scene.ts';

/** Half the working rate, at which partials are looked at. */
const RATE = 22_050;
const AT_SEC = 0.5;
const noise = noiseSource(5);

/** Eight partials that fall by 6 dB an octave. */
const string = (t: number, hertz: number, phase: number): number => {
  let sum = 0;
  for (let h = 1; h <= 8; h++) sum += Math.sin(2 * Math.PI * h * hertz * t + h * phase) / h;
  return 0.3 * sum * Math.exp(-2 * t);
};
/** A hand on the body: noise that dies in 20 ms and a box that rings for 30. */
const knock = (t: number, hertz: number): number =>
  t < 0
    ? 0
    : 0.5 * noise() * Math.exp(-t / 0.02) + 0.3 * Math.sin(2 * Math.PI * hertz * t) * Math.exp(-t / 0.03);

const apart = { last: -Infinity, next: Infinity };

/** What is said of the instant {@link AT_SEC} of a signal, by name. */
function said(
  signal: (t: number) => number,
  before: number,
  after = before,
  around: { last: number; next: number } = apart,
): Record<(typeof GOING_ON)[number], number> {
  const half = Float32Array.from({ length: RATE }, (_, i) => signal(i / RATE));
  const pitches = { before: before - LOWEST, after: after - LOWEST };
  const values = goingOn({ half } as Prepared, 2 * RATE * AT_SEC, { ...pitches, ...around });
  return Object.fromEntries(GOING_ON.map((name, k) => [name, values[k]])) as ReturnType<typeof said>;
}

describe('whether what rang goes on', () => {
  it.each([
    ['A2, 36 cents sharp', 45, 112.3],
    ['E2', 40, 82.4],
    ['C5, a quarter tone flat', 72, 509],
  ])('a string that is knocked goes on in step: %s', (_, midi, hertz) => {
    const { carried, novel, renewOld } = said((t) => string(t, hertz, 0.4) + knock(t - AT_SEC, 150), midi);
    expect(carried).toBeGreaterThan(0.9);
    expect(novel).toBeLessThan(-1);
    expect(Math.abs(renewOld)).toBeLessThan(0.4);
  });

  it.each([
    ['A2', 45, 110],
    ['E2', 40, 82.4],
    ['C5', 72, 523.3],
  ])('one that is plucked again begins anew: %s', (_, midi, hertz) => {
    const found = [0.7, 1.9, 3.1, 4.4].map((phase) =>
      said((t) => (t < AT_SEC ? string(t, hertz, 0.4) : string(t - AT_SEC, hertz, phase)), midi),
    );
    for (const { renewNew, novel } of found) {
      expect(renewNew).toBeGreaterThan(0.4);
      expect(novel).toBeGreaterThan(-0.5);
    }
    expect(found.reduce((sum, { carried }) => sum + carried, 0) / found.length).toBeLessThan(0.6);
  });

  it('another string raises its own partials and lets the old ones fall', () => {
    const { renewNew, renewOld } = said(
      (t) => (t < AT_SEC ? 1 : 0.1) * string(t, 110, 0.4) + (t < AT_SEC ? 0 : string(t - AT_SEC, 146.8, 1)),
      45,
      50,
    );
    expect(renewNew).toBeGreaterThan(1);
    expect(renewOld).toBeLessThan(-0.5);
  });

  it('a knock shortly before a pluck is told by what lies between them', () => {
    const next = AT_SEC + 0.055;
    const signal = (t: number): number =>
      t < next ? string(t, 110, 0.4) + knock(t - AT_SEC, 150) : string(t - next, 110, 2.2);
    const blind = said(signal, 45);
    const told = said(signal, 45, 45, { last: -Infinity, next: 2 * RATE * next });
    expect(blind.carried).toBeLessThan(told.carried - 0.1);
    expect(told.renewOld).toBeLessThan(0.25);
    expect(told.carried).toBeGreaterThan(0.8);
    expect(told.until).toBeCloseTo(0.055, 3);
  });

  it.each([2, 5, 11])('%s ms that were lost are a shift in time, and nothing new', (lostMs) => {
    const { carried, slipped, renewOld } = said(
      (t) => string(t < AT_SEC ? t : t + lostMs / 1000, 131, 0.4),
      48,
    );
    expect(slipped).toBeGreaterThan(0.9);
    expect(slipped).toBeGreaterThan(carried);
    expect(Math.abs(renewOld)).toBeLessThan(0.3);
  });

  it('says nothing where the take ends', () => {
    const half = new Float32Array(RATE).fill(0.1);
    const values = goingOn({ half } as Prepared, 2 * (RATE - 100), { before: 20, after: 20, ...apart });
    expect(values.slice(0, 10)).toEqual(new Array(10).fill(0));
  });
});
