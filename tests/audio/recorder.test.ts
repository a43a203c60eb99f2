import { expect, it } from 'vitest';
import { createChannelChooser } from '../../src/audio/microphone/chooseChannel.ts';
import { createRecorder } from '../../src/audio/microphone/recorder.ts';
import fc from 'fast-check';

const RATE = 48_000;
const BLOCK = 128;
/** A capture whose sample at context frame f is f, in chunks; `lost` frames never arrive. */
function capture(from: number, chunks: number, lost: ReadonlySet<number>, wanted: number | 'louder' = 0) {
  const recorder = createRecorder(RATE, wanted);
  for (let c = 0; c < chunks; c++) {
    if (lost.has(c)) continue;
    const frame = from + c * BLOCK;
    recorder.push({
      frame,
      length: BLOCK,
      channels: [Float32Array.from({ length: BLOCK }, (_, i) => frame + i)],
    });
  }
  return recorder;
}

it('keeps every frame between record and finish, at its place, and lists what was lost', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 300 }),
      fc.integer({ min: 0, max: 2000 }),
      fc.uniqueArray(fc.integer({ min: 0, max: 19 }), { maxLength: 6 }),
      (from, offset, lost) => {
        const recorder = createRecorder(RATE, 0);
        recorder.record(from + offset);
        const start = from + offset;
        const end = from + 20 * BLOCK;
        const gone = new Set(lost);
        for (let c = 0; c < 20; c++) {
          if (gone.has(c)) continue;
          const frame = from + c * BLOCK;
          recorder.push({
            frame,
            length: BLOCK,
            channels: [Float32Array.from({ length: BLOCK }, (_, i) => frame + i + 1)],
          });
        }
        const { samples, startFrame, gaps } = recorder.finish(end);
        expect(startFrame).toBe(start);
        expect(samples.length).toBe(end - start);
        const missing = new Set<number>();
        for (const [frame, length] of gaps) for (let f = frame; f < frame + length; f++) missing.add(f);
        const frames = Array.from({ length: end - start }, (_, i) => start + i);
        const arrived = (frame: number): boolean => !gone.has(Math.floor((frame - from) / BLOCK));
        expect([...samples]).toEqual(frames.map((frame) => (arrived(frame) ? frame + 1 : 0)));
        expect([...missing]).toEqual(frames.filter((frame) => !arrived(frame)));
      },
    ),
    { numRuns: 40 },
  );
});

it('begins at the frame that was asked for though the command came half a second late', () => {
  const recorder = capture(0, 300, new Set());
  recorder.record(300 * BLOCK - RATE / 2);
  const { samples, gaps } = recorder.finish(300 * BLOCK);
  expect(samples[0]).toBe(300 * BLOCK - RATE / 2);
  expect(gaps).toEqual([]);
});

it('forgets what is older than a second while nothing is recorded', () => {
  const recorder = capture(0, 2000, new Set());
  recorder.record(0);
  const { gaps } = recorder.finish(2000 * BLOCK);
  expect(gaps).toHaveLength(1);
  expect(gaps[0]![1]).toBeGreaterThan(2000 * BLOCK - 1.1 * RATE);
});

it('says when the stream has ended before the end: the rest is one gap', () => {
  const recorder = capture(0, 4, new Set());
  recorder.record(0);
  expect(recorder.reached(10 * BLOCK)).toBe(false);
  expect(recorder.finish(10 * BLOCK).gaps).toEqual([[4 * BLOCK, 6 * BLOCK]]);
});

it('takes the louder channel of the whole take, never a mixture', () => {
  const recorder = createRecorder(RATE, 'louder');
  recorder.record(0);
  const quiet = new Float32Array(BLOCK).fill(0.01);
  const loud = new Float32Array(BLOCK).fill(0.3);
  recorder.push({ frame: 0, length: BLOCK, channels: [quiet, loud] });
  recorder.push({ frame: BLOCK, length: BLOCK, channels: [loud, loud] });
  recorder.push({ frame: 2 * BLOCK, length: BLOCK, channels: [quiet, loud] });
  expect([...recorder.finish(3 * BLOCK).samples].every((x) => x === Math.fround(0.3))).toBe(true);
});

it('takes the channel that was chosen though it is softer', () => {
  const recorder = createRecorder(RATE, 0);
  recorder.record(0);
  recorder.push({
    frame: 0,
    length: BLOCK,
    channels: [new Float32Array(BLOCK).fill(0.01), new Float32Array(BLOCK).fill(0.9)],
  });
  expect(recorder.finish(BLOCK).samples[5]).toBe(Math.fround(0.01));
});

it('throws a TypeError when nothing is being recorded', () => {
  expect(() => createRecorder(RATE, 0).finish(10)).toThrow(TypeError);
  expect(() => createRecorder(RATE, 0).finish(10)).toThrow(/call record first/);
});

it('changes the live channel only for one that is 6 dB louder', () => {
  const chooser = createChannelChooser('louder', RATE);
  const level = (a: number, b: number): number => {
    let chosen = 0;
    for (let i = 0; i < 2000; i++)
      chosen = chooser.choose([new Float32Array(BLOCK).fill(a), new Float32Array(BLOCK).fill(b)]);
    return chosen;
  };
  expect(level(0.1, 0.15)).toBe(0);
  expect(level(0.1, 0.3)).toBe(1);
  expect(level(0.15, 0.1)).toBe(1);
  expect(level(0.5, 0.1)).toBe(0);
});
