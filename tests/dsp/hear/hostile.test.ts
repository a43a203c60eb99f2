import { describe, expect, it } from 'vitest';
import { createListener, createLiveEar, hearTake } from '../../../src/dsp/index.ts';
import { PHRASE, render } from '../support/pluck.ts';

const RATE = 48_000;
const guitar = { instrument: 'guitar' } as const;
const fill = (value: (i: number) => number, length = RATE): Float32Array =>
  Float32Array.from({ length }, (_, i) => value(i));

describe('hostile buffers', () => {
  const cases: Record<string, [Float32Array, string | null]> = {
    'no samples at all': [new Float32Array(0), 'no-stream'],
    'one sample': [Float32Array.of(0.5), null],
    'a hundred samples': [fill((i) => Math.sin(i), 100), null],
    'digital silence': [new Float32Array(RATE), 'silence'],
    'nothing but NaN': [fill(() => NaN), 'no-stream'],
    'nothing but infinities': [fill((i) => (i % 2 ? Infinity : -Infinity)), 'no-stream'],
    'the greatest floats': [fill((i) => (i % 2 ? 3e38 : -3e38)), 'no-stream'],
    'denormal numbers': [fill((i) => (i % 2 ? 1e-42 : -1e-42)), 'silence'],
    'direct current': [fill(() => 0.9), null],
    'a full-scale square': [fill((i) => (i % 200 < 100 ? 1 : -1)), 'clipped'],
    'full-scale alternation': [fill((i) => (i % 2 ? 1 : -1)), null],
    'one impulse': [fill((i) => (i === 24_000 ? 1 : 0)), null],
  };
  it.each(Object.entries(cases))(
    '%s: is refused, holds no notes, nothing is thrown',
    (_, [signal, reason]) => {
      const take = hearTake(signal, RATE, guitar);
      expect(take.heard.verdict).toBe('refused');
      if (reason) expect(take.heard.reason).toBe(reason);
      expect(take.notes.filter((n) => n.confidence > 0.5)).toEqual([]);
      const ear = createLiveEar({ ...guitar, sampleRate: RATE });
      expect(() => ear.push(signal)).not.toThrow();
    },
  );

  it('a phrase with some NaN in it is heard, with caution', () => {
    const signal = render(PHRASE, RATE, 5.4);
    for (let i = 100_000; i < 100_600; i++) signal[i] = NaN;
    const take = hearTake(signal, RATE, guitar);
    expect(take.notes.map((n) => n.midi)).toEqual(PHRASE.map((p) => p.midi));
    expect(take.heard).toEqual({ verdict: 'caution', reason: 'no-stream' });
  });

  it.each([0, -1, NaN, 7999, 192_001, Infinity])('a sample rate of %d is the caller’s mistake', (rate) => {
    expect(() => hearTake(new Float32Array(10), rate, guitar)).toThrow(RangeError);
    expect(() => createListener({ ...guitar, sampleRate: rate })).toThrow(/8000 to 192000 Hz, got/);
    expect(() => createLiveEar({ ...guitar, sampleRate: rate })).toThrow(RangeError);
  });

  it('a finished listener takes no more', () => {
    const listener = createListener({ ...guitar, sampleRate: RATE });
    listener.finish();
    expect(() => listener.push(new Float32Array(1))).toThrow(TypeError);
  });
});
