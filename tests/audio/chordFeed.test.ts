import { beforeAll, describe, expect, it } from 'vitest';
import { makeStrum, type MadeStrum } from '../../audio-fixtures/chords/index.ts';
import { loadBanks } from '../../audio-fixtures/index.ts';
import { createChordFeed } from '../../src/audio/microphone/chordFeed.ts';
import type { LiveEvent } from '../../src/audio/index.ts';

const RATE = 44_100;
const CHUNK = 512;
let made: MadeStrum;
beforeAll(async () => {
  const bank = (await loadBanks('npm')).all.find(({ name }) => name === 'nylon')!;
  made = makeStrum({ kind: 'open', fault: 'no third', effect: 'clean', bank, seed: 431 })!;
});

describe('strokes at the microphone, answered while they ring', () => {
  /** Sends the strum from context frame `start` on; chunks for which `lost` says so never arrive. */
  function events(start: number, lost: (frame: number) => boolean = () => false): LiveEvent[] {
    const feed = createChordFeed(RATE);
    feed.expect({
      asked: [{ chord: { shapes: [made.asked] }, fromFrame: start, toFrame: start + 5 * RATE }],
      lowest: 38,
      driven: null,
    });
    const attack = start + Math.round(made.firstSec * RATE);
    const out: LiveEvent[] = [];
    let told = false;
    for (let at = 0; at + CHUNK <= made.signal.length; at += CHUNK) {
      if (lost(at)) continue;
      // As the live ear does: an attack is noticed some blocks after it.
      if (!told && start + at > attack + 1500) {
        feed.attack(attack);
        told = true;
      }
      out.push(...feed.push(made.signal.subarray(at, at + CHUNK), start + at));
    }
    return out;
  }

  it('come on the context’s frame counter, with what was missing', () => {
    for (const start of [0, 1_000_000]) {
      const [one, ...more] = events(start);
      expect(more).toEqual([]);
      expect(one).toMatchObject({ type: 'chord', asked: 0, verdict: 'no' });
      expect((one as Extract<LiveEvent, { type: 'chord' }>).atFrame).toBe(
        start + Math.round(made.firstSec * RATE),
      );
      expect((one as Extract<LiveEvent, { type: 'chord' }>).missing).toHaveLength(1);
    }
  });

  it('are left to the take where the stream breaks in the middle of one', () => {
    const at = Math.round((made.firstSec + 0.2) * RATE);
    expect(events(0, (frame) => frame > at && frame < at + 4000)).toEqual([]);
  });

  it('are not told while nothing is expected', () => {
    const feed = createChordFeed(RATE);
    feed.attack(1000);
    expect(feed.push(made.signal, 0)).toEqual([]);
  });
});
