import type { HeardTake } from '../../notes.ts';
import { hearTake } from './hearTake.ts';
import type { HearOptions } from './hearTake.ts';

/** A listener for one take, fed in blocks of any size. */
export interface Listener {
  /** The block is copied. @throws TypeError after `finish` */
  push(block: Float32Array): void;
  /** The take as {@link hearTake} hears it, whatever the blocks were. */
  finish(): HeardTake;
}

/** @throws RangeError for a sample rate outside 8000…192000 Hz */
export function createListener(options: HearOptions & { readonly sampleRate: number }): Listener {
  const { sampleRate } = options;
  if (!(sampleRate >= 8000 && sampleRate <= 192_000))
    throw new RangeError(`sample rate must be 8000 to 192000 Hz, got ${sampleRate}`);
  let held = new Float32Array(16 * 1024);
  let length = 0;
  let done = false;
  return {
    push(block) {
      if (done) throw new TypeError('the listener has finished; make a new one for the next take');
      if (length + block.length > held.length) {
        const larger = new Float32Array(Math.max(2 * held.length, length + block.length));
        larger.set(held.subarray(0, length));
        held = larger;
      }
      held.set(block, length);
      length += block.length;
    },
    finish() {
      done = true;
      return hearTake(held.subarray(0, length), sampleRate, options);
    },
  };
}
