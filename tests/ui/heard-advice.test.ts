import { describe, expect, it } from 'vitest';
import { hearTake } from '../../src/dsp/index.ts';
import { louderChannel, readWav } from '../../src/exchange/index.ts';
import { NOT_MARKED } from '../../src/ui/messages.ts';
import { plucked } from '../cli/support.ts';

const PITCHES = [52, 55, 57, 59, 57, 55, 52, 57];
const wav = readWav(
  plucked(
    PITCHES.map((midi, i) => ({ midi, atSec: 0.3 + i * 0.5 })),
    4.6,
  ),
);
const take = louderChannel(wav);
const { sampleRate } = wav;
const heard = (samples: Float32Array) => hearTake(samples, sampleRate, { instrument: 'guitar' });
/** Noise of a room, the same each time: a sine of many frequencies would be a tone. */
function hiss(level: number): Float32Array {
  let seed = 1;
  return take.map(() => {
    seed = (seed * 16_807) % 2_147_483_647;
    return level * (seed / 1_073_741_823 - 1);
  });
}
const over =
  (level: number) =>
  (x: Float32Array, noise = hiss(level)) =>
    x.map((value, i) => value + noise[i]!);

/** What was wrong with the take, the word of the advice that is followed, and the same take after it. */
const FOLLOWED: readonly (readonly [keyof typeof NOT_MARKED, RegExp, Float32Array, Float32Array])[] = [
  ['silence', /Check the microphone/, take.map(() => 0), take],
  [
    'too-quiet',
    /turn the input up/,
    over(5e-5)(take.map((x) => x * 0.003)),
    over(5e-5)(take.map((x) => x * 0.5)),
  ],
  ['clipped', /Turn the input down/, take.map((x) => Math.max(-1, Math.min(1, x * 20))), take],
  ['no-stream', /Check the cable/, take.map((x, i) => ((i / sampleRate) % 0.7 < 0.1 ? 0 : x)), take],
  ['not-an-instrument', /closer to the instrument/, hiss(0.15), take],
];

describe('a take that could not be heard', () => {
  it.each(FOLLOWED)(
    '%s: what is said to do is done, and every note is heard',
    (reason, advice, bad, good) => {
      expect(heard(bad).heard.reason).toBe(reason);
      expect(NOT_MARKED[reason].remedy).toMatch(advice);
      const { heard: verdict, notes } = heard(good);
      expect(verdict).toEqual({ verdict: 'ok', reason: null });
      expect(notes.map(({ midi }) => midi)).toEqual(PITCHES);
    },
  );
});
