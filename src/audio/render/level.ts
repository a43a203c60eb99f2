import { dbToAmplitude } from '../../music/units.ts';
import { gatingBlocks, integratedLoudness } from './loudness/loudness.ts';
import { truePeak } from './loudness/truePeak.ts';

/**
 * Integrated loudness of a test, LUFS: programme level of EBU R 128. Drums and plucked strings peak up to
 * 19 dB above it (tests/audio/mix.test.ts), so the peaks keep {@link CEILING_DBTP} without a limiter.
 */
export const TARGET_LUFS = -23;
/** Ceiling, dBTP: head-room for lossy coding and for cheap converters. */
export const CEILING_DBTP = -3;

/** What was measured in a dry render. */
export interface Measured {
  readonly blocks: readonly number[];
  /** Linear. */
  readonly peak: number;
}

export const measure = (samples: Float32Array, sampleRate: number): Measured => ({
  blocks: gatingBlocks(samples, sampleRate),
  peak: truePeak(samples),
});

/**
 * One gain (dB) for all parts of a test: together they have {@link TARGET_LUFS}, and none passes
 * {@link CEILING_DBTP} (then they are softer). Silence gets 0.
 */
export function commonGainDb(parts: readonly Measured[]): number {
  const loudness = integratedLoudness(parts.flatMap(({ blocks }) => blocks));
  const peak = Math.max(0, ...parts.map((part) => part.peak));
  if (loudness === null || peak === 0) return 0;
  return Math.min(TARGET_LUFS - loudness, CEILING_DBTP - 20 * Math.log10(peak));
}

/** Applies a gain in place. */
export function amplify(samples: Float32Array, gainDb: number): void {
  const factor = dbToAmplitude(gainDb);
  for (let i = 0; i < samples.length; i++) samples[i]! *= factor;
}
