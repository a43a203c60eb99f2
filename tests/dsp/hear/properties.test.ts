import { describe, expect, it } from 'vitest';
import { createListener, hearTake } from '../../../src/dsp/index.ts';
import type { HeardTake } from '../../../src/music/notes.ts';
import { PHRASE, render } from '../support/pluck.ts';

const RATE = 44_100;
const DURATION = 5.4;
const guitar = { instrument: 'guitar' } as const;
const phrase = render(PHRASE, RATE, DURATION);
const heard = hearTake(phrase, RATE, guitar);

const midis = (take: HeardTake): number[] => take.notes.map((n) => n.midi);
const onsets = (take: HeardTake): number[] => take.notes.map((n) => n.onsetSec);
/** Greatest difference between two lists of the same length. */
function apart(a: readonly number[], b: readonly number[]): number {
  expect(a.length).toBe(b.length);
  return Math.max(...a.map((x, i) => Math.abs(x - b[i]!)));
}

describe('the re-hearing of a take', () => {
  it('gives a synthetic phrase back: every note, its attack within 3 ms, its pitch within 3 cents', () => {
    expect(midis(heard)).toEqual(PHRASE.map((p) => p.midi));
    const due = PHRASE.map((p) => p.onsetSec);
    expect(apart(onsets(heard), due)).toBeLessThan(0.003);
    for (const note of heard.notes) expect(Math.abs(note.cents)).toBeLessThan(3);
    expect(heard.heard).toEqual({ verdict: 'ok', reason: null });
  });

  it('gives identical notes for blocks of 128, of 1 to 997 samples, and for the whole', () => {
    const inBlocks = (size: (k: number) => number): HeardTake => {
      const listener = createListener({ ...guitar, sampleRate: RATE });
      for (let at = 0, k = 0; at < phrase.length; at += size(k++))
        listener.push(phrase.subarray(at, Math.min(phrase.length, at + size(k))));
      return listener.finish();
    };
    expect(inBlocks(() => 128)).toEqual(heard);
    expect(inBlocks((k) => 1 + ((k * 7919) % 997))).toEqual(heard);
  });

  it('only shifts when silence is put in front', () => {
    const lead = 16_383;
    const later = new Float32Array(phrase.length + lead);
    later.set(phrase, lead);
    const shifted = hearTake(later, RATE, guitar);
    expect(midis(shifted)).toEqual(midis(heard));
    expect(
      apart(
        onsets(shifted),
        onsets(heard).map((t) => t + lead / RATE),
      ),
    ).toBeLessThan(0.001);
    expect(shifted.heard).toEqual(heard.heard);
    expect(
      apart(
        shifted.notes.map((n) => n.levelDb),
        heard.notes.map((n) => n.levelDb),
      ),
    ).toBeLessThan(0.2);
  });

  it.each([-20, -10, 6])('a gain of %i dB changes the level and nothing else', (gainDb) => {
    const scaled = hearTake(
      phrase.map((x) => x * 10 ** (gainDb / 20)),
      RATE,
      guitar,
    );
    expect(midis(scaled)).toEqual(midis(heard));
    expect(apart(onsets(scaled), onsets(heard))).toBeLessThan(0.0005);
    expect(scaled.heard).toEqual(heard.heard);
    expect(
      apart(
        scaled.notes.map((n) => n.levelDb - gainDb),
        heard.notes.map((n) => n.levelDb),
      ),
    ).toBeLessThan(0.05);
  });

  it.each([22_050, 48_000, 96_000])('at %i Hz the same phrase has its onsets within 1 ms', (rate) => {
    const other = hearTake(render(PHRASE, rate, DURATION), rate, guitar);
    expect(midis(other)).toEqual(midis(heard));
    expect(apart(onsets(other), onsets(heard))).toBeLessThan(0.001);
  });

  it('hears a phrase played a semitone higher a semitone higher', () => {
    const up = PHRASE.map((p) => ({ ...p, midi: p.midi + 1 }));
    const higher = hearTake(render(up, RATE, DURATION), RATE, guitar);
    expect(midis(higher)).toEqual(midis(heard).map((m) => m + 1));
    expect(apart(onsets(higher), onsets(heard))).toBeLessThan(0.003);
  });

  it.each([-40, -30, 25])('takes out an overall tuning of %i cents and says so', (offset) => {
    const detuned = PHRASE.map((p) => ({ ...p, midi: p.midi + offset / 100 }));
    const take = hearTake(render(detuned, RATE, DURATION), RATE, guitar);
    expect(midis(take)).toEqual(midis(heard));
    expect(Math.abs(take.tuningCents - offset)).toBeLessThan(2);
    for (const note of take.notes) expect(Math.abs(note.cents)).toBeLessThan(5);
  });

  it('hears semiquaver re-pluckings of E2 at 160 bpm (94 ms apart) and of bass E1 at 120', () => {
    const again = (instrument: 'guitar' | 'bass', midi: number, apartSec: number): number[] => {
      const plucks = Array.from({ length: 16 }, (_, i) => ({ midi, onsetSec: 0.3 + apartSec * i }));
      const take = hearTake(render(plucks, RATE, 0.8 + apartSec * 16), RATE, { instrument });
      expect(
        apart(
          onsets(take),
          plucks.map((p) => p.onsetSec),
        ),
      ).toBeLessThan(0.01);
      return midis(take);
    };
    expect(again('guitar', 40, 0.094)).toEqual(Array(16).fill(40));
    expect(again('bass', 28, 0.125)).toEqual(Array(16).fill(28));
  });

  it('a take longer than a minute is heard in stretches without losing or doubling a note', () => {
    const rate = 16_000;
    const plucks = Array.from({ length: 125 }, (_, i) => ({ midi: 45 + (i % 12), onsetSec: 0.4 + 0.5 * i }));
    const take = hearTake(render(plucks, rate, 63), rate, guitar);
    expect(midis(take)).toEqual(plucks.map((p) => p.midi));
    expect(
      apart(
        onsets(take),
        plucks.map((p) => p.onsetSec),
      ),
    ).toBeLessThan(0.003);
  }, 240_000);
});
