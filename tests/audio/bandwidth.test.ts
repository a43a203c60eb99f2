import { expect, it } from 'vitest';
import { createBandwidthWatch } from '../../src/audio/microphone/bandwidth.ts';
import { createResampler } from '../../src/dsp/index.ts';
import { nodeRenderer } from '../support/node-renderer.ts';
import { note, sheet } from '../support/sheets.ts';

const RATE = 48_000;

function noise(seconds: number, amplitude: number): Float32Array {
  let state = 99;
  return Float32Array.from({ length: seconds * RATE }, () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return amplitude * (state / 2 ** 31 - 1);
  });
}
function resample(signal: Float32Array, from: number, to: number): Float32Array {
  const parts: Float32Array[] = [];
  const resampler = createResampler(from, to);
  resampler.push(signal, (block: Float32Array) => parts.push(block.slice()));
  return Float32Array.from(parts.flatMap((part) => [...part]));
}
/** Through a call's codec rate and back, stored with 16 bits as a sound server does. */
const throughCall = (signal: Float32Array, rate: number): Float32Array =>
  resample(resample(signal, RATE, rate), rate, RATE).map((x) => Math.round(x * 32_768) / 32_768);

async function guitar(): Promise<Float32Array> {
  const notes = [40, 45, 52, 57].map((pitch, i) => note(0.1 + i * 0.6, pitch, 0.55));
  const [take] = await nodeRenderer().render([sheet(3, notes)], { sampleRate: RATE });
  return take!.samples;
}

it('names a capture at 8 or 16 kHz that was brought to 48 kHz: room noise', () => {
  for (const rate of [8000, 16_000])
    expect(createBandwidthWatch(RATE).push(throughCall(noise(3, 0.01), rate))).toBe('narrow');
});

it('names it with a guitar in a quiet room', async () => {
  const room = noise(3, 0.0005);
  const played = (await guitar()).map((x, i) => x + room[i]!);
  for (const rate of [8000, 16_000])
    expect(createBandwidthWatch(RATE).push(throughCall(played, rate))).toBe('narrow');
});

it('does not name a guitar in a quiet room, nor one through a dark amplifier', async () => {
  const room = noise(3, 0.0005);
  const played = await guitar();
  const dark = new Float32Array(played.length);
  // One pole at 2 kHz: 6 dB an octave.
  for (let i = 1; i < dark.length; i++) dark[i] = dark[i - 1]! + 0.23 * (played[i]! - dark[i - 1]!);
  for (const clean of [played, dark])
    expect(createBandwidthWatch(RATE).push(clean.map((x, i) => x + room[i]!))).not.toBe('narrow');
});

it('says nothing of silence, and knows a telephone’s rate without looking', () => {
  expect(createBandwidthWatch(RATE).push(new Float32Array(5 * RATE))).toBe('unknown');
  expect(createBandwidthWatch(16_000).push(new Float32Array(10))).toBe('narrow');
});

it('gives the same answer for any block size', () => {
  const signal = throughCall(noise(3, 0.01), 16_000);
  const watch = createBandwidthWatch(RATE);
  let heard = 'unknown';
  for (let i = 0; i < signal.length; i += 77) heard = watch.push(signal.subarray(i, i + 77));
  expect(heard).toBe('narrow');
});
