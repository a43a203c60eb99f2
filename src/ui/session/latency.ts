import type { MeasuredLatency } from '../../store/index.ts';
import type { Latency, Marked } from './types.ts';

/** A round trip known less well than this says nothing about being early or late as a whole. */
export const KNOWN_WITHIN_MS = 10;

/** As it is kept with the attempt: whole hundredths of a millisecond. */
export const latencyToKeep = ({ sec, halfWidthSec, source }: Latency): Marked['latency'] => ({
  ms: Math.round(sec * 1e5) / 100,
  uncertaintyMs: Math.round(halfWidthSec * 1e5) / 100,
  source,
});

/**
 * What a mark must leave open, ms. The browser's own word is no measurement (true trips lay up to 55 ms above it, and
 * wireless headphones add 150 ms and more that it does not know of), so nothing is held against the player then.
 */
export const unknownMs = ({ uncertaintyMs, source }: MeasuredLatency): number =>
  source === 'reported' ? Infinity : uncertaintyMs;
