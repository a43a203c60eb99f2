import { createLiveChords, practiseChords, type LiveChords } from '../../dsp/index.ts';
import type { ExpectedChords, LiveEvent } from '../types.ts';

/** Answers strokes while they ring, from frame-stamped blocks, on the context's frame counter. */
export interface ChordFeed {
  /** From now on these chords are asked for; null: none. */
  expect(expected: ExpectedChords | null): void;
  /** The live ear noticed an attack at this context frame. */
  attack(atFrame: number): void;
  push(samples: Float32Array, frame: number): LiveEvent[];
}

export function createChordFeed(sampleRate: number): ChordFeed {
  let expected: ExpectedChords | null = null;
  let ear: LiveChords | null = null;
  /** Context frame of the ear's sample 0, and of the next one it expects. */
  let zero = 0;
  let next = -1;
  let practised = false;
  const begin = (frame: number): void => {
    zero = frame;
    ear =
      expected &&
      createLiveChords(
        sampleRate,
        expected.asked.map(({ chord, fromFrame, toFrame }) => ({
          chord,
          fromSample: fromFrame - frame,
          toSample: toFrame - frame,
        })),
        { lowest: expected.lowest, ...(expected.driven === null ? {} : { driven: expected.driven }) },
      );
  };
  return {
    expect(wanted) {
      expected = wanted;
      if (wanted && !practised) practiseChords(sampleRate);
      practised ||= wanted !== null;
      ear = null;
      next = -1;
    },
    attack: (atFrame) => ear?.attack(atFrame - zero),
    push(samples, frame) {
      if (!expected) return [];
      // What is lost in a gap is not made up: the strokes after it are answered.
      if (frame !== next) begin(frame);
      next = frame + samples.length;
      return ear!.push(samples).map(({ atSample, asked, judged: { verdict, findings } }) => ({
        type: 'chord',
        atFrame: zero + atSample,
        asked,
        verdict,
        missing: findings.missing,
        foreign: findings.foreign,
      }));
    },
  };
}
