import { doubles } from '../signal/workspace.ts';
import { BLEED_RATE } from './align.ts';
import { BINS, FRAME, type Expected, type Powers } from './expected.ts';

/** Bands of the flux: 24 to the octave from 60 Hz to 11 kHz, at least a bin wide. */
const FROM_HZ = 60;
const TO_HZ = 11_000;
const PER_OCTAVE = 24;
/** 21 ms: compared frames lie four hops apart. */
const BACK = 4;
/** Leftovers are exponentially distributed around R: above 4R they come once in 50 bins. */
const HEADROOM = 4;
/** Under the loudest band by so much counts as silence. */
const FLOOR_DB = 40;
/** Lows, middle and highs part here: bass and kick, fundamentals, what a pick sounds like. */
const PARTS_HZ = [400, 2000] as const;

/** One value a frame each, nats averaged over bands: all of them, lows, middle and highs. */
export interface Flux {
  readonly all: Float32Array;
  readonly low: Float32Array;
  readonly middle: Float32Array;
  readonly high: Float32Array;
}

/** First bin of each band, and the one after the last. */
const EDGES: Int32Array = (() => {
  const edges: number[] = [];
  for (let i = 0; FROM_HZ * 2 ** (i / PER_OCTAVE) < TO_HZ; i++) {
    const bin = Math.round((FROM_HZ * 2 ** (i / PER_OCTAVE) * FRAME) / BLEED_RATE);
    if (bin > (edges[edges.length - 1] ?? 0)) edges.push(bin);
  }
  return Int32Array.from(edges);
})();
const BANDS = EDGES.length - 1;
const bandFrom = (hertz: number): number => EDGES.findIndex((bin) => bin >= (hertz * FRAME) / BLEED_RATE);

/** Band powers, one row of {@link BANDS} a frame. */
function inBands({ frames, power }: Powers): Float64Array {
  const out = doubles(frames * BANDS);
  for (let k = 0; k < frames; k++)
    for (let b = 0; b < BANDS; b++) {
      let total = 0;
      for (let i = EDGES[b]!; i < EDGES[b + 1]!; i++) total += power[k * BINS + i]!;
      out[k * BANDS + b] = total;
    }
  return out;
}

function greatest(e: Float64Array): number {
  let top = 0;
  for (let i = 0; i < e.length; i++) top = Math.max(top, e[i]!);
  return top;
}

/** How much each frame's bands rise over their own past, widened by one band, and over {@link HEADROOM} times `least`; `top` is the take's loudest band. */
function flux(e: Float64Array, least: Float64Array | null, top: number): Flux {
  const frames = e.length / BANDS;
  const floor = top * 10 ** (-FLOOR_DB / 10);
  const [one, two] = [bandFrom(PARTS_HZ[0]), bandFrom(PARTS_HZ[1])];
  const part = (): Float32Array => new Float32Array(frames);
  const [all, low, middle, high] = [part(), part(), part(), part()];
  if (!(floor > 0)) return { all, low, middle, high };
  for (let k = BACK; k < frames; k++) {
    let [ofLow, ofMiddle, ofHigh] = [0, 0, 0];
    for (let b = 0; b < BANDS; b++) {
      const now = k * BANDS + b;
      const then = (k - BACK) * BANDS + b;
      const past = Math.max(e[then]!, b > 0 ? e[then - 1]! : 0, b + 1 < BANDS ? e[then + 1]! : 0);
      const rise = Math.max(floor, e[now]!) / Math.max(floor, past, least ? HEADROOM * least[now]! : 0);
      if (!(rise > 1)) continue;
      if (b < one) ofLow += Math.log(rise);
      else if (b < two) ofMiddle += Math.log(rise);
      else ofHigh += Math.log(rise);
    }
    low[k] = ofLow / one;
    middle[k] = ofMiddle / (two - one);
    high[k] = ofHigh / (BANDS - two);
    all[k] = (ofLow + ofMiddle + ofHigh) / BANDS;
  }
  return { all, low, middle, high };
}

/** The fluxes of a take whose backing was taken out. */
export interface Fluxes {
  /**
   * Log flux that knows what to expect: a band rises only by what it gains over its own past (widened by one
   * band, as in SuperFlux) *and* over four times the expected leftovers.
   */
  readonly aware: Flux;
  /** The flux of the leftovers that are expected: where the backing strikes. */
  readonly backing: Flux;
  /** Power of the loudest band of what is left and of the leftovers: what counts as silence lies under it. */
  readonly tops: readonly [number, number];
}

/** @param known of the whole take, where this is a stretch of it */
export function fluxes({ left, leftover }: Expected, known: Fluxes['tops'] | null = null): Fluxes {
  const [there, expected] = [inBands(left), inBands(leftover)];
  const tops = known ?? ([greatest(there), greatest(expected)] as const);
  return { aware: flux(there, expected, tops[0]), backing: flux(expected, null, tops[1]), tops };
}
