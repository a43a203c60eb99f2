import { HOP } from '../signal/prepared.ts';
import { createRealFft } from '../spectrum/realFft.ts';
import type { TriangleBank } from './bands.ts';
import { createSimd, fillTables, tableSizes } from '../simd/instance.ts';

/** What a bank of bands holds of the spectrum of every frame. */
export interface BandFrames {
  /**
   * Frame k is centred on sample k · {@link HOP}; what lies outside the signal is silence. Band b of frame k at
   * `k * bands + b` of the answer.
   */
  of(samples: Float32Array, frames: number): Float32Array;
}

/** How a frame is looked at. */
export interface BandFrameOptions {
  /** Twice a power of four for {@link simdBandFrames}; any power of two for {@link plainBandFrames}. */
  readonly size: number;
  /** As long as `size`. */
  readonly window: Float64Array;
  readonly bank: TriangleBank;
  /** True: bands of magnitudes; false: of powers. */
  readonly root: boolean;
}

/** One past the last bin that the bank looks at. */
function endOf({ start, from }: TriangleBank): number {
  const last = start.length - 1;
  return start[last]! + from[last + 1]! - from[last]!;
}

/** In plain code, with 64-bit sums: where there is no SIMD, and what the other is tested against. */
export function plainBandFrames({ size, window, bank, root }: BandFrameOptions): BandFrames {
  const fft = createRealFft(size);
  const { start, from: rowFrom, weights } = bank;
  const bands = start.length;
  const firstBin = start[0]!;
  const endBin = endOf(bank);
  const bin = new Float64Array(fft.bins);
  return {
    of(samples, frames) {
      const out = new Float32Array(frames * bands);
      for (let k = 0; k < frames; k++) {
        fillWindowed(fft.input, samples, k * HOP - size / 2, window);
        fft.powers(bin, endBin);
        if (root) for (let i = firstBin; i < endBin; i++) bin[i] = Math.sqrt(bin[i]!);
        for (let b = 0, w = 0; b < bands; b++) {
          const end = rowFrom[b + 1]!;
          let sum = 0;
          for (let i = start[b]!; w < end; i++, w++) sum += weights[w]! * bin[i]!;
          out[k * bands + b] = sum;
        }
      }
      return out;
    },
  };
}

/** Copies samples from `from` on, times `shape` (a multiple of four long); what lies outside the signal is silence. */
export function fillWindowed(
  into: Float64Array,
  samples: Float32Array,
  from: number,
  shape: Float64Array,
): void {
  const length = shape.length;
  const last = samples.length;
  if (from >= 0 && from + length <= last)
    // Four in one turn take half the time of four turns.
    for (let i = 0; i < length; i += 4) {
      const at = from + i;
      into[i] = samples[at]! * shape[i]!;
      into[i + 1] = samples[at + 1]! * shape[i + 1]!;
      into[i + 2] = samples[at + 2]! * shape[i + 2]!;
      into[i + 3] = samples[at + 3]! * shape[i + 3]!;
    }
  else
    for (let i = 0; i < length; i++) {
      const at = from + i;
      into[i] = at >= 0 && at < last ? samples[at]! * shape[i]! : 0;
    }
}

/** Frames that are handed to the module at once: its memory is that large, and no larger, however long the take. */
const CHUNK = 64;

/** Four frames at a time (`simd/kernels`), in 32-bit sums; null where that cannot be run. */
export function simdBandFrames({ size, window, bank, root }: BandFrameOptions): BandFrames | null {
  const n = size / 2;
  const { start, from, weights } = bank;
  const bands = start.length;
  const simd = createSimd({
    ...tableSizes(n),
    samples: CHUNK * HOP + size,
    shape: size,
    start: bands,
    from: bands + 1,
    weights: weights.length,
    out: CHUNK * bands,
  });
  if (!simd) return null;
  const { run, at, floats, whole } = simd;
  fillTables(simd, n);
  floats.shape.set(window);
  floats.weights.set(weights);
  whole.start.set(start);
  whole.from.set(from);
  const end = endOf(bank);
  const heard = floats.samples;
  return {
    of(samples, frames) {
      const out = new Float32Array(frames * bands);
      for (let k = 0; k < frames; k += CHUNK) {
        const count = Math.min(CHUNK, frames - k);
        const first = k * HOP - size / 2;
        const begin = Math.max(0, first);
        const until = Math.max(begin, Math.min(samples.length, first + heard.length));
        heard.fill(0);
        heard.set(samples.subarray(begin, until), begin - first);
        run.bandFrames(
          at.samples,
          HOP,
          count,
          at.shape,
          n,
          at.turns,
          at.halfTurns,
          at.places,
          at.z,
          at.bins,
          end,
          root ? 1 : 0,
          bands,
          at.start,
          at.from,
          at.weights,
          at.out,
        );
        out.set(floats.out.subarray(0, count * bands), k * bands);
      }
      return out;
    },
  };
}

/** The faster of the two that runs here. */
export const createBandFrames = (options: BandFrameOptions): BandFrames =>
  simdBandFrames(options) ?? plainBandFrames(options);
