import { BLEED_RATE } from './align.ts';
import { BINS, FRAME, type Expected } from './expected.ts';

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

function bandEdges(): number[] {
  const edges: number[] = [];
  for (let i = 0; FROM_HZ * 2 ** (i / PER_OCTAVE) < TO_HZ; i++) {
    const bin = Math.round((FROM_HZ * 2 ** (i / PER_OCTAVE) * FRAME) / BLEED_RATE);
    if (bin > (edges[edges.length - 1] ?? 0)) edges.push(bin);
  }
  return edges;
}

/**
 * Log flux that knows what to expect: a band rises only by what it gains over its own past (widened by one
 * band, as in SuperFlux) *and* over four times the expected leftovers.
 * @returns one value a frame, nats averaged over bands.
 */
export function awareFlux({ left, leftover }: Expected): Float32Array {
  const edges = bandEdges();
  const bands = edges.length - 1;
  const sum = (power: Float32Array, k: number, b: number): number => {
    let total = 0;
    for (let i = edges[b]; i < edges[b + 1]; i++) total += power[k * BINS + i];
    return total;
  };
  const e = new Float64Array(left.frames * bands);
  const r = new Float64Array(left.frames * bands);
  let top = 0;
  for (let k = 0; k < left.frames; k++)
    for (let b = 0; b < bands; b++) {
      e[k * bands + b] = sum(left.power, k, b);
      r[k * bands + b] = HEADROOM * sum(leftover.power, k, b);
      top = Math.max(top, e[k * bands + b]);
    }
  const floor = top * 10 ** (-FLOOR_DB / 10);
  const flux = new Float32Array(left.frames);
  for (let k = BACK; k < left.frames; k++) {
    let total = 0;
    for (let b = 0; b < bands; b++) {
      const then = (k - BACK) * bands + b;
      const past = Math.max(e[then], b > 0 ? e[then - 1] : 0, b + 1 < bands ? e[then + 1] : 0);
      const rise = Math.log(Math.max(floor, e[k * bands + b]) / Math.max(floor, past, r[k * bands + b]));
      if (rise > 0) total += rise;
    }
    flux[k] = total / bands;
  }
  return flux;
}
