import type { Strum } from '../../music/chords/heard.ts';
import type { PreparedStrum } from './fitShape.ts';

/** A strum of a take, made ready to be asked about. */
export interface HeardStrum extends Strum {
  readonly prepared: PreparedStrum;
  readonly soundsDriven: boolean;
  /** The backing that was taken out over the same windows, dB; null where there was none. */
  readonly bleedDb: Float64Array | null;
}
