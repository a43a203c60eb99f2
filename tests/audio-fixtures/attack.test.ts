import { describe, expect, it } from 'vitest';
import { attackIndex } from '../../audio-fixtures/attack.ts';

const RATE = 44_100;
const START = 4410;

/** A decaying tone that begins at once at `START`. */
function plucked(hz: number, decaySec: number): Float32Array {
  return Float32Array.from({ length: RATE }, (_, i) => {
    const t = (i - START) / RATE;
    return t < 0 ? 0 : Math.cos(2 * Math.PI * hz * t) * Math.exp(-t / decaySec);
  });
}

describe('the attack of a recorded note', () => {
  it('is where a sudden tone starts, to within the 1 ms window, from 41 Hz up', () => {
    for (const hz of [41.2, 82.4, 196, 440, 1318])
      expect(Math.abs(attackIndex(plucked(hz, 0.4), RATE) - START) / RATE).toBeLessThan(0.0006);
  });
  it('stays at the start when a low string dips by more than 20 dB inside its period', () => {
    const dipping = plucked(41.2, 2).map((x) => Math.sign(x) * x ** 4);
    expect(Math.abs(attackIndex(dipping, RATE) - START) / RATE).toBeLessThan(0.0006);
  });
  it('is the −20 dB point of a straight rise', () => {
    const rise = 0.02 * RATE;
    const swell = plucked(1000, 5).map((x, i) => x * Math.min(1, Math.max(0, (i - START) / rise)));
    const at = (attackIndex(swell, RATE) - START) / rise;
    expect(at).toBeGreaterThan(0.07);
    expect(at).toBeLessThan(0.13);
  });
  it('does not move with level', () => {
    const note = plucked(110, 0.5);
    const soft = note.map((x) => x / 1000);
    expect(attackIndex(soft, RATE)).toBe(attackIndex(note, RATE));
  });
  it('cannot be asked of silence', () => {
    expect(() => attackIndex(new Float32Array(100), RATE)).toThrow(
      new RangeError('no attack in a silent recording'),
    );
  });
});
