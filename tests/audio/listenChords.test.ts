import { beforeAll, expect, it } from 'vitest';
import { playChords } from '../../audio-fixtures/chords/index.ts';
import { loadBanks } from '../../audio-fixtures/index.ts';
import { listenChords } from '../../src/audio/ear/listenChords.ts';

const C = [48, 52, 55, 60, 64];
const F = [41, 48, 53, 57, 60, 65];
let samples: Float32Array<ArrayBuffer>;
beforeAll(async () => {
  const nylon = (await loadBanks('npm')).all.find(({ name }) => name === 'nylon')!;
  const strums = [
    { notes: C, atSec: 1, untilSec: 2.4 },
    { notes: F, atSec: 2.5, untilSec: 3.9 },
  ];
  samples = playChords(nylon, strums, { durationSec: 4.3, seed: 2 });
});

const request = (over: Partial<Parameters<typeof listenChords>[0]> = {}) => ({
  recording: { samples, sampleRate: 44_100, startFrame: 9000, gaps: [] as [number, number][] },
  zeroFrame: 9000 + 22_050,
  reference: null,
  tuning: [40, 45, 50, 55, 59, 64],
  asked: [
    { chord: { shapes: [C] }, fromSec: 0, toSec: 1.5 },
    { chord: { shapes: [F] }, fromSec: 1.5, toSec: 3 },
  ],
  expectedSec: [0.5, 2],
  driven: false,
  ...over,
});

it('counts strums and what is asked from the zero frame', () => {
  const { strums, heard } = listenChords(request());
  expect(heard).toMatchObject({ verdict: 'ok', reason: null });
  expect(strums).toHaveLength(2);
  expect(Math.abs(strums[0]!.firstSec - 0.5)).toBeLessThan(0.02);
  expect(Math.abs(strums[1]!.firstSec - 2)).toBeLessThan(0.02);
  expect(strums.map(({ as }) => [...as].map(([index, { verdict }]) => [index, verdict]))).toEqual([
    [[0, 'yes']],
    [[1, 'yes']],
  ]);
});

it('refuses a recording with too much missing, and an empty one', () => {
  const gaps: [number, number][] = [[60_000, 12_000]];
  const { recording } = request();
  for (const broken of [
    { ...recording, gaps },
    { ...recording, samples: new Float32Array(0) as Float32Array<ArrayBuffer> },
  ])
    expect(listenChords(request({ recording: broken }))).toEqual({
      strums: [],
      heard: { verdict: 'refused', reason: 'no-stream' },
    });
});
