import type { Sounded } from './playing.ts';

/** A note cut off still rings in the room for about this long; common practice, no source. */
const RINGS_SEC = 0.6;

/**
 * Whether a note that the microphone heard may be named on the screen as the player's, where loudspeakers sound: only
 * while the app is silent. The live ear hears phrase, count and drums as it hears the player (the backing is taken out
 * of the take afterwards, from the whole of it), and names of the phrase would write the answer out.
 *
 * @param atFrame context frame of the note's onset, as it arrived
 * @param latencySec round trip as far as it is known
 */
export function mayBePlayers(
  sounded: readonly Sounded[],
  atFrame: number,
  { sampleRate, latencySec }: { readonly sampleRate: number; readonly latencySec: number },
): boolean {
  const after = (latencySec + RINGS_SEC) * sampleRate;
  return !sounded.some(
    ({ startFrame, length }) => atFrame >= startFrame && atFrame <= startFrame + length + after,
  );
}
