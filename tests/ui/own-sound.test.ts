import { describe, expect, it } from 'vitest';
import { createLiveEar } from '../../src/dsp/index.ts';
import { hearingSheet, makeTest, performanceSheet, standardTuning } from '../../src/tests-engine/index.ts';
import { mayBePlayers } from '../../src/ui/session/ownSound.ts';
import { nodeRenderer } from '../support/node-renderer.ts';

const RATE = 48_000;
/** The round trip of a laptop's loudspeaker and microphone; within the 81 to 125 ms seen. */
const TRIP_SEC = 0.1;

/** Frames at which the live ear names a note in these samples as they arrive, `TRIP_SEC` late. */
function named(samples: Float32Array, levelDb: number): number[] {
  const ear = createLiveEar({ sampleRate: RATE, instrument: 'guitar' });
  const trip = TRIP_SEC * RATE;
  const arriving = new Float32Array(samples.length + trip + RATE);
  const gain = 10 ** (levelDb / 20);
  samples.forEach((x, i) => (arriving[i + trip] = x * gain));
  const found: number[] = [];
  for (let at = 0; at < arriving.length; at += 128)
    for (const event of ear.push(arriving.subarray(at, at + 128)))
      if (event.type === 'note') found.push(event.atSample);
  return found;
}

describe('the note named while nobody plays', () => {
  it('is none, however loud the app’s own phrase, count and backing come back from the loudspeakers', async () => {
    const test = makeTest({
      ...{ kind: 'melody', level: 5, seed: 9 },
      ...{ instrument: 'guitar', tuning: standardTuning('guitar').strings },
    });
    const rendered = await nodeRenderer().render([hearingSheet(test), performanceSheet(test)], {
      sampleRate: RATE,
    });
    for (const { samples } of rendered)
      for (const levelDb of [-8, -20]) {
        const frames = named(samples, levelDb);
        // The ear hears notes: without the rule they would be on the screen.
        expect(frames.length).toBeGreaterThan(5);
        const sounded = [{ samples, startFrame: 1000, length: samples.length }];
        const shown = frames.filter((frame) =>
          mayBePlayers(sounded, frame + 1000, { sampleRate: RATE, latencySec: TRIP_SEC }),
        );
        expect(shown).toEqual([]);
      }
  });
  it('is the player’s as soon as the app has been silent for a moment, and before it sounds', () => {
    const sounded = [{ samples: new Float32Array(0), startFrame: 48_000, length: 24_000 }];
    const may = (sec: number) =>
      mayBePlayers(sounded, sec * RATE, { sampleRate: RATE, latencySec: TRIP_SEC });
    expect([0.9, 1.0, 1.4, 2.1, 2.3].map(may)).toEqual([true, false, false, false, true]);
    expect(mayBePlayers([], 5, { sampleRate: RATE, latencySec: 0 })).toBe(true);
  });
});
