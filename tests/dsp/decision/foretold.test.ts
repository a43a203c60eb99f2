import { describe, expect, it } from 'vitest';
import { FORETOLD, foretold } from '../../../src/dsp/decision/foretold.ts';
import { halve } from '../../../src/dsp/signal/halve.ts';
import { prepare, WORK_RATE } from '../../../src/dsp/signal/prepared.ts';
import { noiseSource } from '../bleed/scene.ts';

const AT_SEC = 0.5;
const noise = noiseSource(7);

const string = (t: number, hertz: number, phase: number): number => {
  let sum = 0;
  for (let h = 1; h <= 8; h++) sum += Math.sin(2 * Math.PI * h * hertz * t + h * phase) / h;
  return 0.3 * sum * Math.exp(-2 * t);
};
const knock = (t: number): number => (t < 0 ? 0 : 0.3 * noise() * Math.exp(-t / 0.015));

function said(signal: (t: number) => number, next = Infinity): Record<(typeof FORETOLD)[number], number> {
  const take = prepare(Float32Array.from({ length: WORK_RATE }, (_, i) => signal(i / WORK_RATE)));
  expect(take.half).toHaveLength(halve(take.samples).length);
  const values = foretold(take, WORK_RATE * AT_SEC, { last: -Infinity, next: WORK_RATE * next });
  return Object.fromEntries(FORETOLD.map((name, k) => [name, values[k]])) as ReturnType<typeof said>;
}

describe('what the sound before foretells', () => {
  it.each([41.2, 82.4, 196, 523.3])('a string of %s Hz goes on under a knock', (hertz) => {
    const { hold1, like1, hold2, like2, leftFall } = said((t) => string(t, hertz, 0.4) + knock(t - AT_SEC));
    for (const value of [hold1, hold2]) expect(Math.abs(value - 1)).toBeLessThan(0.2);
    for (const value of [like1, like2]) expect(value).toBeGreaterThan(0.9);
    expect(leftFall).toBeGreaterThan(hertz < 50 ? 0 : 0.5);
  });

  it.each([41.2, 82.4, 196, 523.3])('a string of %s Hz is stopped by the next stroke', (hertz) => {
    const found = [0.7, 1.9, 3.1, 4.4].map((phase) =>
      said((t) => (t < AT_SEC ? string(t, hertz, 0.4) : string(t - AT_SEC, hertz, phase))),
    );
    const mean = found.reduce((sum, { like1 }) => sum + like1, 0) / found.length;
    expect(mean).toBeLessThan(0.6);
    for (const { leftFall } of found) expect(leftFall).toBeLessThan(0.5);
  });

  it('looks no further than the next pluck', () => {
    const next = AT_SEC + 0.06;
    const signal = (t: number): number =>
      t < next ? string(t, 110, 0.4) + knock(t - AT_SEC) : string(t - next, 110, 2.2);
    expect(said(signal, next).like3).toBeGreaterThan(0.9);
    expect(said(signal).like3).toBeLessThan(0.8);
    expect(said(signal, next).room).toBeCloseTo(0.057, 2);
  });

  it('has numbers to say in silence and at the ends of a take', () => {
    const take = prepare(new Float32Array(WORK_RATE / 5));
    for (const at of [0, 4000, WORK_RATE / 5 - 10])
      for (const value of foretold(take, at, { last: -Infinity, next: Infinity }))
        expect(Number.isFinite(value)).toBe(true);
  });
});
