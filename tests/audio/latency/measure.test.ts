import { describe, expect, it } from 'vitest';
import { measureLoopback, measureWithNotes } from '../../../src/audio/latency/measure.ts';
import type { Playback, Recording, Rendered } from '../../../src/audio/types.ts';
import { findProbe, makeProbe } from '../../../src/dsp/index.ts';
import type { HeardNote, HeardTake } from '../../../src/music/notes.ts';
import { cents, sec } from '../../../src/music/units.ts';

const RATE = 48_000;
/** The recording begins 0.1 s before what is played, as with the true one. */
const LEAD = 0.1 * RATE;

/** A sound whose loudspeaker comes back into its microphone after `tripSec`; it takes no time at all. */
function loop(tripSec: number, gaps: Recording['gaps'] = []) {
  const played: Float32Array[] = [];
  let stopped = 0;
  return {
    sampleRate: RATE,
    played,
    get stopped() {
      return stopped;
    },
    startRecording: () => undefined,
    play({ samples }: { samples: Float32Array }): Playback {
      played.push(samples);
      let settle: (how: 'finished' | 'stopped') => void = () => undefined;
      const ended = new Promise<'finished' | 'stopped'>((done) => (settle = done));
      setTimeout(() => settle('finished'), 20);
      return {
        startFrame: 1000 + LEAD,
        positionSec: () => 0,
        stop: () => (stopped++, settle('stopped')),
        ended,
      };
    },
    async stopRecording(): Promise<Recording> {
      const samples = new Float32Array(2.4 * RATE);
      samples.set(
        played[0]!.map((x) => x / 10),
        LEAD + Math.round(tripSec * RATE),
      );
      for (const [frame, length] of gaps) samples.fill(0, frame - 1000, frame - 1000 + length);
      return { samples, sampleRate: RATE, startFrame: 1000, gaps };
    },
  };
}
const ear = {
  findProbe: async (samples: Float32Array, sentAt: number, rate: number) =>
    findProbe(samples, sentAt, makeProbe(rate)),
};

describe('measuring with an earcup at the microphone', () => {
  it('finds the trip on the one frame counter', async () => {
    const trip = await measureLoopback(loop(0.0935), ear, { headphonesOff: true });
    expect(trip!.sec).toBeCloseTo(0.0935, 4);
  });
  it('sounds nothing before "headphones off" was confirmed', async () => {
    const sound = loop(0.09);
    await expect(measureLoopback(sound, ear, {} as never)).rejects.toThrow(TypeError);
    await expect(measureLoopback(sound, ear, { headphonesOff: false } as never)).rejects.toThrow(TypeError);
    expect(sound.played).toEqual([]);
  });
  it('bears a lost block, whose place the frame counter knows; says nothing where much was lost since the sound began', async () => {
    const measured = (gaps: Recording['gaps']) =>
      measureLoopback(loop(0.09, gaps), ear, { headphonesOff: true });
    expect((await measured([[1000 + LEAD + 30_000, 128]]))!.sec).toBeCloseTo(0.09, 4);
    const long: Recording['gaps'] = [
      [1000 + LEAD + 5000, 1500],
      [1000 + LEAD + 30_000, 1500],
    ];
    expect(await measured(long)).toBeNull();
    expect(await measured([[1000, 3000]])).not.toBeNull();
  });
  it('is silenced at once when it is given up, and says nothing', async () => {
    const sound = loop(0.09);
    const giveUp = new AbortController();
    const trip = measureLoopback(sound, ear, {
      headphonesOff: true,
      signal: giveUp.signal,
      onPlayback: () => giveUp.abort(),
    });
    expect(await trip).toBeNull();
    expect(sound.stopped).toBe(1);
  });
});

describe('measuring with notes played to a click', () => {
  const clicks: Rendered = {
    samples: new Float32Array(10),
    sampleRate: RATE,
    marks: [0.5, 1.1, 1.7, 2.3].map((at, index) => ({ label: 'beat', index, atSec: sec(at) })),
  };
  const noteAt = (at: number) => ({ onsetSec: sec(at) }) as HeardNote;
  it('compares what is heard with the marked beats, from the frame at which the clicks began', async () => {
    let zero = 0;
    const hears = {
      listen: async ({ zeroFrame }: { zeroFrame: number }): Promise<HeardTake> => {
        zero = zeroFrame;
        const notes = [0.62, 1.22, 1.82, 2.42].map(noteAt);
        return { notes, tuningCents: cents(0), heard: { verdict: 'ok', reason: null } };
      },
    };
    const trip = await measureWithNotes(loop(0), hears, clicks, { instrument: 'guitar' });
    expect(trip!.sec).toBeCloseTo(0.12, 9);
    expect(zero).toBe(1000 + LEAD);
  });
});
