import { expect, it } from 'vitest';
import { listen } from '../../src/audio/ear/listen.ts';
import { createLiveFeed } from '../../src/audio/microphone/liveFeed.ts';
import { nodeRenderer } from '../support/node-renderer.ts';
import { backingBars, note, sheet } from '../support/sheets.ts';

const sampleRate = 48_000;
async function take() {
  const notes = [note(0.6, 45, 0.4), note(1.2, 52, 0.4)];
  const [rendered] = await nodeRenderer().render([sheet(2, notes)], { sampleRate });
  return { samples: rendered!.samples, sampleRate, startFrame: 100_000, gaps: [] as [number, number][] };
}

it('counts note times from the zero frame', async () => {
  const recording = await take();
  const heard = listen({ recording, instrument: 'guitar', zeroFrame: 100_000 + 24_000, reference: null });
  expect(heard.notes.map(({ midi }) => midi)).toEqual([45, 52]);
  expect(Math.abs(heard.notes[0]!.onsetSec - 0.1)).toBeLessThan(0.01);
});

it('refuses a take with more than 0.2 s missing after the zero frame, and only then', async () => {
  const recording = await take();
  const at = (frame: number, length: number, zeroFrame: number) =>
    listen({
      recording: { ...recording, gaps: [[frame, length]] },
      instrument: 'guitar',
      zeroFrame,
      reference: null,
    }).heard;
  expect(at(130_000, 12_000, 100_000)).toMatchObject({ verdict: 'refused', reason: 'no-stream' });
  expect(at(130_000, 4800, 100_000).reason).not.toBe('no-stream');
  // Lost before the take: no harm.
  expect(at(100_000, 12_000, 112_000).reason).not.toBe('no-stream');
});

it('hears no note where the recorder has counted 40 ms that never came, which without the count it does', async () => {
  const recording = await take();
  const [zeroFrame, from, length] = [100_000, 0.82 * sampleRate, 0.04 * sampleRate];
  const samples = recording.samples.slice().fill(0, from, from + length);
  const heard = (gaps: [number, number][]) =>
    listen({ recording: { ...recording, samples, gaps }, instrument: 'guitar', zeroFrame, reference: null });
  expect(heard([[100_000 + from, length]]).notes.map(({ midi }) => midi)).toEqual([45, 52]);
  expect(heard([]).notes.map(({ midi }) => midi)).toEqual([45, 45, 52]);
});

it('cancels a backing that is given on its own counter, and counts times from the zero frame all the same', async () => {
  // 6 s of backing to learn from, then 2 s more under two notes; the loudspeaker is 80 ms away and 6 dB under.
  const [backing] = await nodeRenderer().render([sheet(9, backingBars(0.2, 0.45, 33, 4))], { sampleRate });
  const notes = [note(6.5, 52, 0.6), note(7.2, 57, 0.6)];
  const [played] = await nodeRenderer().render([sheet(9, notes)], { sampleRate });
  const delay = Math.round(0.08 * sampleRate);
  const samples = played!.samples.map((x, i) => x + 0.5 * (backing!.samples[i - delay] ?? 0));
  const recording = { samples, sampleRate, startFrame: 50_000, gaps: [] };
  const early = 4800;
  const reference = new Float32Array(backing!.samples.length + early);
  reference.set(backing!.samples, early);
  const shares: number[] = [];
  const heard = listen(
    {
      recording,
      instrument: 'guitar',
      zeroFrame: 50_000 + 6 * sampleRate,
      reference: { samples: reference, startFrame: 50_000 - early },
    },
    (share) => shares.push(share),
  );
  expect(heard.heard.delayMs).toBeCloseTo(80, 0);
  expect(heard.notes.map(({ midi }) => midi)).toEqual([52, 57]);
  expect(Math.abs(heard.notes[0]!.onsetSec - 0.5)).toBeLessThan(0.02);
  expect(shares.at(-1)).toBe(1);
});

it('cancels a backing that was turned up or down: what is taken out is what sounded', async () => {
  const notes = [note(6.5, 52, 0.6), note(7.2, 57, 0.6)];
  const renderer = nodeRenderer();
  const [played] = await renderer.render([sheet(9, notes)], { sampleRate });
  for (const backingDb of [-12, 6]) {
    const [backing] = await renderer.render([sheet(9, backingBars(0.2, 0.45, 33, 4))], {
      ...{ sampleRate, balance: { backingDb, melodyDb: 0 } },
    });
    const delay = Math.round(0.08 * sampleRate);
    const samples = played!.samples.map((x, i) => x + 0.5 * (backing!.samples[i - delay] ?? 0));
    const heard = listen({
      recording: { samples, sampleRate, startFrame: 0, gaps: [] },
      instrument: 'guitar',
      zeroFrame: 6 * sampleRate,
      reference: { samples: backing!.samples, startFrame: 0 },
    });
    expect(
      heard.notes.map(({ midi }) => midi),
      `${backingDb} dB`,
    ).toEqual([52, 57]);
  }
});

it('puts live events on the context’s counter, also after a gap', () => {
  const fed: number[] = [];
  let made = 0;
  const feed = createLiveFeed(() => {
    made++;
    let count = 0;
    return {
      push(block: Float32Array) {
        fed.push(block.length);
        count += block.length;
        return [{ type: 'revoked', atSample: count - 1 } as const];
      },
    };
  });
  const block = new Float32Array(512);
  expect(feed.push(block, 7000)).toEqual([{ type: 'revoked', atFrame: 7511 }]);
  expect(feed.push(block, 8000)).toEqual([{ type: 'revoked', atFrame: 8511 }]);
  expect(fed).toEqual([512, 488, 512]);
  expect(feed.push(block, 900_000)).toEqual([{ type: 'revoked', atFrame: 900_511 }]);
  expect(made).toBe(2);
});
