import type { Heard } from '../../../src/music/notes.ts';

/** A take in which the player is so many dB over the backing, as taking the backing out perfectly tells it. */
export const cancellable = (db: number): Heard => ({
  verdict: 'ok',
  reason: null,
  delayMs: 40,
  driftPpm: 0,
  cancellationDb: 10 * Math.log10(1 + 10 ** (-db / 10)),
});
