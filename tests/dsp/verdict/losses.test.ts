import { describe, expect, it } from 'vitest';
import { createListener, hearTake } from '../../../src/dsp/index.ts';
import { bridged, findLosses } from '../../../src/dsp/verdict/losses.ts';
import { PHRASE, render } from '../support/pluck.ts';

const RATE = 44_100;
const guitar = { instrument: 'guitar' } as const;
const phrase = render(PHRASE, RATE, 5.4);
const peakOf = (signal: Float32Array): number => signal.reduce((top, x) => Math.max(top, Math.abs(x)), 0);
const lossesOf = (signal: Float32Array) => findLosses(signal, RATE, peakOf(signal));

/** Lost as zeros; instants in seconds. */
function zeroed(signal: Float32Array, at: number, ms: number): Float32Array {
  return signal.slice().fill(0, Math.round(at * RATE), Math.round((at + ms / 1000) * RATE));
}
/** Inside notes, 90 to 160 ms after their onsets. */
const PLACES = [0.38, 1.02, 1.59, 2.21, 3.71];
const LENGTHS = [1.5, 3, 5, 8, 12];

describe('lost blocks', () => {
  it('are told where they are, and nowhere in a clean take', () => {
    expect(lossesOf(phrase)).toEqual([]);
    PLACES.forEach((at, i) => {
      const start = Math.round(at * RATE);
      const [zeros, ...more] = lossesOf(zeroed(phrase, at, LENGTHS[i]!));
      expect(more).toEqual([]);
      expect(Math.abs(zeros!.at - start)).toBeLessThanOrEqual(1);
      expect(Math.abs(zeros!.length - (LENGTHS[i]! / 1000) * RATE)).toBeLessThanOrEqual(2);
    });
  });

  it('are not the silence before a note, nor a quiet converter’s zeros', () => {
    const silent = zeroed(zeroed(phrase, 0, 250), 2.6, 60);
    expect(lossesOf(silent)).toEqual([]);
    const faint = Float32Array.from({ length: RATE }, (_, i) => Math.round(0.6 * Math.sin(i / 50)) / 32768);
    expect(lossesOf(faint).length).toBe(0);
  });

  it('are bridged: nothing else changes, and what is put there is nearer to what was lost than zeros', () => {
    PLACES.forEach((at, i) => {
      const lossy = zeroed(phrase, at, LENGTHS[i]!);
      const losses = lossesOf(lossy);
      const whole = bridged(lossy, losses, RATE);
      const { at: from, length } = losses[0]!;
      const error = (signal: Float32Array): number =>
        signal.subarray(from, from + length).reduce((sum, x, k) => sum + (x - phrase[from + k]!) ** 2, 0);
      expect(error(whole)).toBeLessThan(0.3 * error(lossy));
      const changed = whole.findIndex((x, k) => x !== phrase[k] && (k < from || k >= from + length));
      expect(changed).toBe(-1);
    });
    expect(bridged(phrase, [], RATE)).toBe(phrase);
  });

  it('are not heard as notes, and said where more than one note is touched', () => {
    const midis = PHRASE.map((pluck) => pluck.midi);
    const one = hearTake(zeroed(phrase, PLACES[1]!, 6), RATE, guitar);
    expect(one.notes.map((note) => note.midi)).toEqual(midis);
    expect(one.heard.verdict).toBe('ok');
    const all = PLACES.reduce((signal, at, i) => zeroed(signal, at, LENGTHS[i]!), phrase);
    const many = hearTake(all, RATE, guitar);
    expect(many.notes.map((note) => note.midi)).toEqual(midis);
    expect(many.heard).toEqual({ verdict: 'caution', reason: 'no-stream' });
  });

  it('longer than a silence may be are known by the recorder’s count alone, and then are not heard as notes', () => {
    const places = [1.02, 1.59, 3.71];
    const lossy = places.reduce((signal, at) => zeroed(signal, at, 45), phrase);
    const missing = places.map((at) => ({ at: Math.round(at * RATE), length: Math.round(0.045 * RATE) }));
    const midis = PHRASE.map((pluck) => pluck.midi);
    expect(findLosses(lossy, RATE, peakOf(lossy))).toEqual([]);
    expect(hearTake(lossy, RATE, guitar).notes.length).toBeGreaterThan(midis.length);
    expect(findLosses(lossy, RATE, peakOf(lossy), missing)).toHaveLength(3);
    const counted = hearTake(lossy, RATE, { ...guitar, missing });
    expect(counted.notes.map((note) => note.midi)).toEqual(midis);
    expect(counted.heard).toEqual({ verdict: 'caution', reason: 'no-stream' });
    // Where a note may have come and gone nothing is put in its place.
    const long = [{ at: Math.round(3.2 * RATE), length: Math.round(0.3 * RATE) }];
    expect(findLosses(zeroed(phrase, 3.2, 300), RATE, peakOf(phrase), long)).toEqual([]);
  });

  it('leave a pluck that fell into one where it was, within 12 ms', () => {
    const lossy = zeroed(phrase, PHRASE[6]!.onsetSec - 0.004, 8);
    const { notes } = hearTake(lossy, RATE, guitar);
    expect(notes.map((note) => note.midi)).toEqual(PHRASE.map((pluck) => pluck.midi));
    expect(Math.abs(notes[6]!.onsetSec - PHRASE[6]!.onsetSec)).toBeLessThan(0.012);
  });

  it('are the same for blocks of any size', () => {
    const lossy = zeroed(phrase, 1.02, 4);
    const listener = createListener({ ...guitar, sampleRate: RATE });
    for (let at = 0; at < lossy.length; at += 997) listener.push(lossy.subarray(at, at + 997));
    expect(listener.finish()).toEqual(hearTake(lossy, RATE, guitar));
  });
});
