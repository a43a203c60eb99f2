import { beforeAll, describe, expect, it } from 'vitest';
import { makeStrum, type Fault } from '../../../audio-fixtures/chords/index.ts';
import { loadBanks, type Bank } from '../../../audio-fixtures/index.ts';
import { createLiveChords, createLiveEar, hearStrums, judgeStrum } from '../../../src/dsp/index.ts';
import type { LiveChord } from '../../../src/dsp/index.ts';

const RATE = 44_100;
let nylon: Bank;
beforeAll(async () => {
  nylon = (await loadBanks('npm')).all.find(({ name }) => name === 'nylon')!;
});

interface Told extends LiveChord {
  /** Samples that had come when it was told. */
  readonly after: number;
}

/** As the capture worker feeds them: the live ear's attacks, then the block. */
function told(signal: Float32Array, asked: Parameters<typeof createLiveChords>[1], block = 512): Told[] {
  const ear = createLiveEar({ sampleRate: RATE, instrument: 'guitar' });
  const chords = createLiveChords(RATE, asked);
  const out: Told[] = [];
  for (let at = 0; at < signal.length; at += block) {
    const part = signal.subarray(at, at + block);
    for (const event of ear.push(part)) if (event.type === 'onset') chords.attack(event.atSample);
    for (const one of chords.push(part)) out.push({ ...one, after: at + part.length });
  }
  return out;
}
const made = (fault: Fault, seed: number) =>
  makeStrum({ kind: 'open', fault, effect: 'clean', bank: nylon, seed })!;
const always = (shape: readonly number[]) => ({
  chord: { shapes: [shape] },
  fromSample: 0,
  toSample: Infinity,
});

describe('a stroke told while it rings', () => {
  it.each(['right', 'no third', 'wrong chord', 'fret off'] as const)(
    'is told once, within 0.5 s of sound, as the whole strum is (%s)',
    (fault) => {
      for (let seed = 401; seed < 405; seed++) {
        const { signal, asked, firstSec } = made(fault, seed);
        const own = told(signal, [always(asked)]).filter(({ atSample }) => atSample > 0.2 * RATE);
        expect(own, `seed ${seed}`).toHaveLength(1);
        const whole = hearStrums(signal, RATE).find((s) => Math.abs(s.firstSec - firstSec) < 0.05)!;
        expect(own[0]!.judged.verdict).toBe(judgeStrum(whole, { shapes: [asked] }).verdict);
        expect(own[0]!.after / RATE - firstSec).toBeLessThan(0.55);
      }
    },
  );

  it('does not depend on the blocks in which the sound comes', () => {
    const { signal, asked } = made('no third', 411);
    const [a, b] = [512, 128].map((block) => told(signal, [always(asked)], block));
    expect(a!.map(({ atSample, judged }) => [atSample, judged.verdict])).toEqual(
      b!.map(({ atSample, judged }) => [atSample, judged.verdict]),
    );
  });

  it('answers the chord in whose time it falls, and nothing outside', () => {
    const { signal, asked, firstSec } = made('right', 421);
    const at = firstSec * RATE;
    const wrong = asked.map((midi) => midi + 1);
    const span = (shape: readonly number[], fromSample: number, toSample: number) => ({
      ...always(shape),
      fromSample,
      toSample,
    });
    const two = told(signal, [span(wrong, 0, at - 0.1 * RATE), span(asked, at - 0.1 * RATE, Infinity)]);
    expect(two.map(({ asked: index, judged }) => [index, judged.verdict]).at(-1)).toEqual([1, 'yes']);
    expect(told(signal, [span(asked, 0, at - 0.3 * RATE)])).toEqual([]);
  });

  it('says nothing of silence and of a knock', () => {
    const knock = new Float32Array(2 * RATE);
    for (let i = 0; i < 2000; i++) knock[RATE + i] = 0.5 * Math.sin(i * i * 1e-3) * Math.exp(-i / 300);
    expect(told(new Float32Array(RATE), [always([48, 52, 55])])).toEqual([]);
    expect(told(knock, [always([48, 52, 55])])).toEqual([]);
  });
});
