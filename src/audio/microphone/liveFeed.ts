import type { LiveEar, LiveEarEvent } from '../../dsp/index.ts';
import type { LiveEvent } from '../types.ts';

/** A gap up to this long is filled with silence; after a longer one the ear starts afresh. */
const LONGEST_FILL = 48_000;

/** Feeds a live ear from frame-stamped blocks and puts its events on the context's frame counter. */
export interface LiveFeed {
  push(samples: Float32Array, frame: number): LiveEvent[];
}

export function createLiveFeed(makeEar: () => LiveEar): LiveFeed {
  let ear = makeEar();
  /** Context frame of the ear's sample 0, and of the next one it expects; −1 before the first block. */
  let zero = -1;
  let next = -1;
  return {
    push(samples, frame) {
      const missing = frame - next;
      if (next < 0 || missing < 0 || missing > LONGEST_FILL) {
        if (next >= 0) ear = makeEar();
        zero = frame;
      } else if (missing > 0) ear.push(new Float32Array(missing));
      next = frame + samples.length;
      return ear.push(samples).map((event) => onContext(event, zero));
    },
  };
}

function onContext(event: LiveEarEvent, zero: number): LiveEvent {
  if (!('atSample' in event)) return event;
  const atFrame = zero + event.atSample;
  if (event.type === 'note') return { type: 'note', atFrame, midi: event.midi, cents: event.cents };
  return { type: event.type, atFrame };
}
