import type { TrueNote } from './planned.ts';

/** A take with everything known about it. */
export interface Take {
  /** Names recipe, bank, rate and seed: enough to make it again. */
  readonly id: string;
  readonly family: string;
  readonly bank: string;
  readonly instrument: 'guitar' | 'bass';
  readonly seed: number;
  readonly sampleRate: number;
  /** Mono; amplitude 1 = 0 dBFS. */
  readonly signal: Float32Array;
  /** In order of onset; empty for a take that holds no notes worth marking. */
  readonly truth: readonly TrueNote[];
  /** Overall tuning against A4 = 440 Hz that the instrument was given. */
  readonly tuningCents: number;
  /** Recorded noises in it, see `families/handling.ts`. */
  readonly noises: readonly { readonly fromSec: number; readonly toSec: number }[];
}

/** Scales in place so that the highest sample stands at `peakDb` dBFS. */
export function peakTo(signal: Float32Array, peakDb: number): void {
  let top = 0;
  for (const x of signal) top = Math.max(top, Math.abs(x));
  if (top === 0) return;
  const gain = 10 ** (peakDb / 20) / top;
  for (let i = 0; i < signal.length; i++) signal[i]! *= gain;
}
