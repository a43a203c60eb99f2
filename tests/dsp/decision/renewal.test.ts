import { describe, expect, it } from 'vitest';
import { renewal, RENEWAL } from '../../../src/dsp/decision/renewal.ts';
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

/** What is said of the instant {@link AT_SEC} of a signal, by name. */
function said(signal: (t: number) => number, before: number, after = before): Record<string, number> {
  const half = Float32Array.from({ length: RATE }, (_, i) => signal(i / RATE));
  const values = renewal({ half } as Prepared, 2 * RATE * AT_SEC, before - LOWEST, after - LOWEST);
  return Object.fromEntries(RENEWAL.map((name, k) => [name, values[k]]));
}

describe('renewal of partials', () => {
  it.each([
    ['A2, 36 cents sharp', 45, 112.3],
    ['E2', 40, 82.4],
    ['C5, a quarter tone flat', 72, 509],
  ])('a string that is knocked goes on in step: %s', (_, midi, hertz) => {
    const { carried, novel, lateOld } = said((t) => string(t, hertz, 0.4) + knock(t - AT_SEC, 150), midi);
    expect(carried).toBeGreaterThan(0.9);
    expect(novel).toBeLessThan(-1);
    expect(Math.abs(lateOld)).toBeLessThan(0.4);
  });

  it.each([
    ['A2', 45, 110],
    ['E2', 40, 82.4],
    ['C5', 72, 523.3],
  ])('one that is plucked again begins anew: %s', (_, midi, hertz) => {
    const found = [0.7, 1.9, 3.1, 4.4].map((phase) =>
      said((t) => (t < AT_SEC ? string(t, hertz, 0.4) : string(t - AT_SEC, hertz, phase)), midi),
    );
    for (const { lateNew, novel } of found) {
      expect(lateNew).toBeGreaterThan(0.4);
      expect(novel).toBeGreaterThan(-0.5);
    }
    expect(found.reduce((sum, { carried }) => sum + carried, 0) / found.length).toBeLessThan(0.6);
  });

  it('another string raises its own partials and lets the old ones fall', () => {
    const { lateNew, lateOld } = said(
      (t) => (t < AT_SEC ? 1 : 0.1) * string(t, 110, 0.4) + (t < AT_SEC ? 0 : string(t - AT_SEC, 146.8, 1)),
      45,
      50,
    );
    expect(lateNew).toBeGreaterThan(1);
    expect(lateOld).toBeLessThan(-0.5);
  });

  it('says nothing where the take ends', () => {
    const half = new Float32Array(RATE).fill(0.1);
    const values = renewal({ half } as Prepared, 2 * (RATE - 100), 20, 20);
    expect(values.slice(0, -1)).toEqual([0, 0, 0, 0, 0, 0, 0]);
  });
});
