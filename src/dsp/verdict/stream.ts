import { bridged, findLosses, leastZeros } from './losses.ts';
import type { Loss } from './losses.ts';

/** What is wrong with a signal as a stream of numbers, whatever it holds. */
export interface StreamCheck {
  /**
   * The signal with NaN, infinities and absurd values (beyond ±100) set to 0, and lost blocks bridged; the same array
   * if all is well.
   */
  readonly clean: Float32Array;
  /** Samples that were no numbers or absurd. */
  readonly broken: number;
  /** Samples in dropouts: at least 2 ms of exact zeros cut into a sounding signal. */
  readonly dropped: number;
  /** Share of the loud samples that stand in flat tops of three and more: 0 … 1. */
  readonly flat: number;
  readonly peak: number;
  /** Where blocks were lost. */
  readonly losses: readonly Loss[];
}

/** +40 dB over full scale: no converter gives it, and squares of it stay exact. */
const ABSURD = 100;
const LEAST_GAP_SEC = 0.002;
/** A dropout's edges are jumps of at least this share of the peak. */
const EDGE = 0.05;
/** Within a thousandth of the peak counts as its top. */
const TOP = 0.999;
/** Shortest flat top: a 3 kHz sine at full scale and 48 kHz has two such samples. */
const FLAT_RUN = 3;

/** @param counted where the recorder knows that samples never came */
export function checkStream(
  signal: Float32Array,
  sampleRate: number,
  counted: readonly Loss[] = [],
): StreamCheck {
  let broken = 0;
  let peak = 0;
  for (let i = 0; i < signal.length; i++) {
    const size = Math.abs(signal[i]!);
    if (!(size <= ABSURD)) broken++;
    else if (size > peak) peak = size;
  }
  const clean = broken > 0 ? signal.map((x) => (Math.abs(x) <= ABSURD ? x : 0)) : signal;
  const least = Math.round(LEAST_GAP_SEC * sampleRate);
  const loudFrom = 0.3 * peak;
  const topFrom = peak > 0 ? TOP * peak : Infinity;
  let dropped = 0;
  let loud = 0;
  let flat = 0;
  let zeros = 0;
  let mostZeros = 0;
  let tops = 0;
  let sizeBeforeGap = 0;
  let previous = 0;
  for (let i = 0; i < clean.length; i++) {
    const x = clean[i]!;
    const size = Math.abs(x);
    if (size > loudFrom) loud++;
    if (size >= topFrom && (tops === 0 || x * previous > 0)) tops++;
    else if (tops > 0) {
      if (tops >= FLAT_RUN) flat += tops;
      tops = size >= topFrom ? 1 : 0;
    }
    if (x === 0) {
      if (zeros === 0) sizeBeforeGap = Math.abs(previous);
      zeros++;
    } else if (zeros > 0) {
      if (zeros >= least && sizeBeforeGap > EDGE * peak && size > EDGE * peak) dropped += zeros;
      if (zeros > mostZeros) mostZeros = zeros;
      zeros = 0;
    }
    previous = x;
  }
  if (tops >= FLAT_RUN) flat += tops;
  const losses = mostZeros >= leastZeros(sampleRate) ? findLosses(clean, sampleRate, peak, counted) : [];
  return {
    clean: bridged(clean, losses, sampleRate),
    broken,
    dropped,
    flat: loud > 0 ? flat / loud : 0,
    peak,
    losses,
  };
}

/** A loss so long before a note's onset may have hidden it, s. */
const BEFORE_SEC = 0.02;

/** How many notes a loss falls into, or just before. @param losses at the input's rate */
export function touchedNotes(
  notes: readonly { readonly onsetSec: number; readonly offsetSec: number }[],
  losses: readonly Loss[],
  sampleRate: number,
): number {
  return notes.filter(({ onsetSec, offsetSec }) =>
    losses.some(({ at }) => at / sampleRate > onsetSec - BEFORE_SEC && at / sampleRate < offsetSec),
  ).length;
}
