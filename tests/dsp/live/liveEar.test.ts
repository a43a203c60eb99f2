import { describe, expect, it } from 'vitest';
import { createLiveEar } from '../../../src/dsp/index.ts';
import type { LiveEarEvent } from '../../../src/dsp/index.ts';
import { PHRASE, render } from '../support/pluck.ts';

const RATE = 48_000;
const phrase = render(PHRASE, RATE, 5.4);

interface Seen {
  readonly event: LiveEarEvent;
  /** Samples heard when it was told. */
  readonly told: number;
}

function listen(signal: Float32Array, instrument: 'guitar' | 'bass', size: (k: number) => number): Seen[] {
  const ear = createLiveEar({ sampleRate: RATE, instrument });
  const seen: Seen[] = [];
  for (let at = 0, k = 0; at < signal.length; at += size(k++)) {
    const end = Math.min(signal.length, at + size(k));
    for (const event of ear.push(signal.subarray(at, end))) seen.push({ event, told: end });
  }
  return seen;
}
const of = (seen: readonly Seen[], type: LiveEarEvent['type']): any[] =>
  seen.filter((s) => s.event.type === type).map((s) => ({ ...s.event, told: s.told }));

describe('the live ear', () => {
  const seen = listen(phrase, 'guitar', () => 128);
  const onsets = of(seen, 'onset');
  const notes = of(seen, 'note');

  it('ticks for every pluck within 30 ms of sound after it', () => {
    expect(onsets.length).toBe(PHRASE.length);
    onsets.forEach((o, i) => {
      expect(Math.abs(o.atSample / RATE - PHRASE[i]!.onsetSec)).toBeLessThan(0.004);
      expect(o.told / RATE - PHRASE[i]!.onsetSec).toBeLessThan(0.03);
    });
  });

  it('names every note within 100 ms of sound after its pluck', () => {
    expect(notes.map((n) => n.midi)).toEqual(PHRASE.map((p) => p.midi));
    notes.forEach((n, i) => {
      expect(n.told / RATE - PHRASE[i]!.onsetSec).toBeLessThan(0.1);
      expect(onsets.map((o) => o.atSample)).toContain(n.atSample);
      expect(Math.abs(n.cents)).toBeLessThan(10);
    });
  });

  it('names bass notes down to E1 within 120 ms', () => {
    const bass = [28, 33, 31, 36, 38, 28].map((midi, i) => ({ midi, onsetSec: 0.3 + 0.4 * i }));
    const named = of(
      listen(render(bass, RATE, 3), 'bass', () => 128),
      'note',
    );
    expect(named.map((n) => n.midi)).toEqual(bass.map((b) => b.midi));
    named.forEach((n, i) => expect(n.told / RATE - bass[i]!.onsetSec).toBeLessThan(0.12));
  });

  it('tells the same whatever the blocks', () => {
    const events = (size: (k: number) => number): LiveEarEvent[] =>
      listen(phrase, 'guitar', size).map((s) => s.event);
    const own = seen.map((s) => s.event);
    // Between two kinds of event of one block the order is the block's; each kind has its own order.
    for (const size of [() => phrase.length, (k: number) => 1 + ((k * 7919) % 997)])
      for (const type of ['onset', 'note', 'revoked', 'tuner', 'level'] as const)
        expect(events(size).filter((e) => e.type === type)).toEqual(own.filter((e) => e.type === type));
  });

  it('tunes a held string to a cent', () => {
    const held = render([{ midi: 45.17, onsetSec: 0.2 }], RATE, 1.5);
    const tuned = of(
      listen(held, 'guitar', () => 512),
      'tuner',
    ).slice(3);
    expect(tuned.length).toBeGreaterThan(5);
    for (const t of tuned) {
      expect(t.midi).toBe(45);
      expect(Math.abs(t.cents - 17)).toBeLessThan(1);
    }
  });

  it('says nothing but levels in silence and in noise', () => {
    const hiss = render([], RATE, 2, { hiss: 0.02 });
    for (const signal of [new Float32Array(RATE), hiss])
      for (const type of ['onset', 'note', 'tuner'] as const)
        expect(
          of(
            listen(signal, 'guitar', () => 128),
            type,
          ),
        ).toEqual([]);
  });

  it('reports peak, RMS and clipping', () => {
    const loud = Float32Array.from({ length: RATE }, (_, i) =>
      Math.max(-1, Math.min(1, 1.5 * Math.sin((2 * Math.PI * 110 * i) / RATE))),
    );
    const levels = of(
      listen(loud, 'guitar', () => 128),
      'level',
    );
    expect(levels.length).toBe(20);
    for (const l of levels) {
      expect(l.clipped).toBe(true);
      expect(l.peakDb).toBeCloseTo(0, 1);
      expect(Math.abs(l.rmsDb + 1.4)).toBeLessThan(0.5);
    }
  });
});
