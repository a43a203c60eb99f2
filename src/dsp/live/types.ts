import type { Cents, Db, Midi } from '../../music/units.ts';

/**
 * What is heard now; provisional. `atSample` counts the input's samples from the first one pushed (fractional
 * after resampling) and says when the string was plucked, not when it was noticed. A `note` or `revoked` names
 * the `onset` it belongs to by the same `atSample`.
 */
export type LiveEarEvent =
  | { readonly type: 'level'; readonly peakDb: Db; readonly rmsDb: Db; readonly clipped: boolean }
  | { readonly type: 'onset'; readonly atSample: number; readonly levelDb: Db }
  | { readonly type: 'note'; readonly atSample: number; readonly midi: Midi; readonly cents: Cents }
  | { readonly type: 'revoked'; readonly atSample: number }
  /** About ten times a second while something periodic sounds. `clarity` 0…1. */
  | { readonly type: 'tuner'; readonly midi: Midi; readonly cents: Cents; readonly clarity: number };

/** A listener for the moment: never marked from. */
export interface LiveEar {
  /** @returns what came to be known with this block; mostly the same empty list */
  push(block: Float32Array): readonly LiveEarEvent[];
}
