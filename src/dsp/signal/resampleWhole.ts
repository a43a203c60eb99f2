import { createSimd } from '../simd/instance.ts';
import { createResampler } from './resampler.ts';
import { phasesOf, resamplingRows } from './resamplingRows.ts';
import { floats } from './workspace.ts';

/** A whole signal at another rate, of one pair of rates. */
export interface WholeResampler {
  /** `ceil(length · to / from)` samples, to the last bit those that `createResampler` gives. */
  of(signal: Float32Array): Float32Array;
}

/** As a stream of blocks: for any rates, in plain code. */
export function plainWholeResampler(from: number, to: number): WholeResampler {
  return {
    of(signal) {
      const out = floats(Math.ceil((signal.length * to) / from));
      let at = 0;
      const emit = (part: Float32Array): void => {
        const fits = part.subarray(0, out.length - at);
        out.set(fits, at);
        at += fits.length;
      };
      const resampler = createResampler(from, to);
      resampler.push(signal, emit);
      resampler.finish(emit);
      return out;
    },
  };
}

/** Stretches of the input that are looked at side by side, and their least length. */
const LANES = 8;
const LEAST_STEP = 96;
/** Rates that have less in common than this give tables larger than the signal. */
const MOST_PHASES = 1000;

/** Eight outputs at a time (`simd/kernels`); null where that cannot be run or the rates have too little in common. */
export function simdWholeResampler(from: number, to: number): WholeResampler | null {
  if (phasesOf(from, to) > MOST_PHASES) return null;
  const { phases: own, step: ownStep, reach, taps, rows } = resamplingRows(from, to);
  const times = Math.ceil(LEAST_STEP / ownStep);
  const [phases, step] = [own * times, ownStep * times];
  const span = step + taps;
  const simd = createSimd({
    samples: (LANES - 1) * step + span,
    starts: phases,
    rowAt: phases,
    rows: 2 * rows.length,
    turned: 2 * LANES * span,
    out: LANES * phases,
  });
  if (!simd) return null;
  const { run, at, floats: single, doubles, whole } = simd;
  doubles.rows.set(rows);
  for (let p = 0; p < phases; p++) {
    whole.starts[p] = Math.floor((p * step) / phases);
    whole.rowAt[p] = (p * ownStep) % own;
  }
  const heard = single.samples;
  return {
    of(signal) {
      const out = floats(Math.ceil((signal.length * to) / from));
      for (
        let done = 0, first = 1 - reach;
        done < out.length;
        done += LANES * phases, first += LANES * step
      ) {
        const begin = Math.max(0, first);
        const until = Math.max(begin, Math.min(signal.length, first + heard.length));
        if (first < 0 || until < first + heard.length) heard.fill(0);
        heard.set(signal.subarray(begin, until), begin - first);
        run.resample(at.samples, step, span, phases, taps, at.starts, at.rowAt, at.rows, at.turned, at.out);
        out.set(single.out.subarray(0, Math.min(single.out.length, out.length - done)), done);
      }
      return out;
    },
  };
}

/** Tables of the last pair of rates: a device has one. */
let last: { readonly from: number; readonly to: number; readonly resampler: WholeResampler } | null = null;

/** The faster of the two that runs here. @param from @param to whole hertz, 2000 to 192000, not the same */
export function resampledWhole(signal: Float32Array, from: number, to: number): Float32Array {
  if (last?.from !== from || last.to !== to)
    last = { from, to, resampler: simdWholeResampler(from, to) ?? plainWholeResampler(from, to) };
  return last.resampler.of(signal);
}
