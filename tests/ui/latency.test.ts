import { countedSpan } from '../../src/tests-engine/index.ts';
import { describe, expect, it } from 'vitest';
import type { Recording } from '../../src/audio/types.ts';
import type { HeardNote, HeardTake } from '../../src/music/notes.ts';
import { noiseFloorDb, noiseWord } from '../../src/ui/level.ts';
import { hearOver, overBackingSound } from '../../src/ui/session/hearOver.ts';
import { hearTake } from '../../src/ui/session/hearTake.ts';
import { latencyToKeep, unknownMs } from '../../src/ui/session/latency.ts';
import { cents, sec } from '../../src/music/units.ts';
import { nodeRenderer } from '../support/node-renderer.ts';

const RATE = 48_000;
const recording: Recording = { samples: new Float32Array(RATE), sampleRate: RATE, startFrame: 0, gaps: [] };
const heard = (delayMs: number | null, onsetSec = 0.5): HeardTake => ({
  notes: [{ onsetSec: sec(onsetSec), offsetSec: sec(onsetSec + 0.2) } as HeardNote],
  tuningCents: cents(0),
  heard: { verdict: 'ok', reason: null, delayMs, driftPpm: 0, cancellationDb: 12 },
});
const facts = {
  recording,
  instrument: 'guitar',
  tuning: [40, 45, 50, 55, 59, 64],
  beatOneFrame: 0,
  span: countedSpan(0.6, 4),
  sounded: [],
  headphones: false,
  latency: { sec: 0.12, halfWidthSec: 0.0005, source: 'earcup' },
} as const;

describe('the round trip that a take is marked with', () => {
  const listen = (delayMs: number | null) => ({
    listen: async () => heard(delayMs),
    listenChords: () => Promise.reject(new Error('no chords are asked for')),
  });
  it('is the one that the bleed told, named so', async () => {
    const { take, latency } = await hearTake(listen(94.2), facts, () => undefined);
    expect(latency).toEqual({ sec: 0.0942, halfWidthSec: 0.002, source: 'loudspeaker' });
    expect(take.notes[0]!.onsetSec).toBeCloseTo(0.5 - 0.0942, 9);
  });
  it('is else the one measured before, with its source and uncertainty', async () => {
    const { take, latency } = await hearTake(listen(null), facts, () => undefined);
    expect(latency).toEqual(facts.latency);
    expect(take.notes[0]!.onsetSec).toBeCloseTo(0.38, 9);
    expect(latencyToKeep(latency)).toEqual({ ms: 120, uncertaintyMs: 0.5, source: 'earcup' });
  });
  it('leaves all bias open where only the browser’s word is there, and the half-width where it was measured', () => {
    expect(unknownMs({ ms: 90, uncertaintyMs: 35, source: 'reported' })).toBe(Infinity);
    expect(unknownMs({ ms: 90, uncertaintyMs: 22, source: 'notes' })).toBe(22);
    expect(unknownMs({ ms: 90, uncertaintyMs: 2 })).toBe(2);
  });
});

describe('the question how well the player is heard over the backing', () => {
  const settings = { instrument: 'guitar', tuningId: 'guitar' } as const;
  it('plays four bars and hears from the third on, against what was sent, after 4 s or more to learn from', async () => {
    const render = nodeRenderer();
    const backing = await overBackingSound(
      { renderTogether: (sheets) => render.render(sheets, { sampleRate: RATE }) },
      settings,
    );
    const bars = backing.marks.filter(({ label }) => label === 'bar');
    expect(bars.length).toBe(4);
    let asked: { zeroFrame: number; reference: { startFrame: number } | null } | null = null;
    const sound = {
      playAndRecord: async () => ({ recording, startFrame: 7000 }),
      listen: async (request: NonNullable<typeof asked>) => ((asked = request), heard(94)),
    };
    const over = await hearOver(sound, backing, 'guitar', {});
    expect(over).toEqual({ verdict: 'ok', reason: null, delayMs: 94 });
    expect(asked!.reference!.startFrame).toBe(7000);
    expect(asked!.zeroFrame).toBe(7000 + Math.round(bars[2]!.atSec * RATE));
    expect(asked!.zeroFrame / RATE).toBeGreaterThanOrEqual(4);
    const silent = { ...sound, listen: async () => heard(null) };
    expect((await hearOver(silent, backing, 'guitar', {}))!.verdict).toBe('none');
    expect(await hearOver({ ...sound, playAndRecord: async () => null }, backing, 'guitar', {})).toBeNull();
  });
});

describe('the room’s noise', () => {
  it('is what is left between the notes', () => {
    const levels = Array.from({ length: 50 }, (_, i) => (i % 3 === 0 ? -62 : -20));
    expect(noiseFloorDb(levels)).toBe(-62);
    expect(noiseFloorDb(levels.slice(0, 9))).toBeNull();
    expect([-70, -50, -40].map(noiseWord)).toEqual(['quiet', 'some', 'loud']);
  });
});
