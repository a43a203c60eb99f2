import { createSimd, type Simd } from '../simd/instance.ts';

/** Running sum of squares of the stretch that is looked at; grown as needed. */
let squares = new Float64Array(1024);

/**
 * Normalised correlation of one piece of a signal with others of the same length, each a sample further on:
 * out[k] = Σ x[at + i] x[from + k + i] / √(Σ x[at + i]² · Σ x[from + k + i]² + floor) for k = 0 … count − 1, sums over
 * i < length. The caller sees to it that all of it lies inside the signal.
 *
 * @param floor keeps silence from being like anything; > 0
 */
export function plainCorrelations(
  x: Float32Array,
  at: number,
  from: number,
  length: number,
  count: number,
  floor: number,
  out: Float64Array,
): void {
  products(x, at, from, length, count, out);
  let own = 0;
  for (let i = 0; i < length; i++) {
    const v = x[at + i]!;
    own += v * v;
  }
  if (squares.length < length + count) squares = new Float64Array(2 * (length + count));
  let sum = 0;
  squares[0] = 0;
  for (let i = 1; i < length + count; i++) {
    const v = x[from + i - 1]!;
    squares[i] = sum += v * v;
  }
  for (let k = 0; k < count; k++)
    out[k] = out[k]! / Math.sqrt(own * (squares[k + length]! - squares[k]!) + floor);
}

/** The sums of products alone; four at a time share what they load. */
function products(
  x: Float32Array,
  at: number,
  from: number,
  length: number,
  count: number,
  out: Float64Array,
): void {
  let k = 0;
  for (; k + 4 <= count; k += 4) {
    let a = 0;
    let b = 0;
    let c = 0;
    let d = 0;
    const shifted = from + k;
    let x0 = x[shifted]!;
    let x1 = x[shifted + 1]!;
    let x2 = x[shifted + 2]!;
    for (let i = 0; i < length; i++) {
      const v = x[at + i]!;
      const x3 = x[shifted + i + 3]!;
      a += v * x0;
      b += v * x1;
      c += v * x2;
      d += v * x3;
      x0 = x1;
      x1 = x2;
      x2 = x3;
    }
    out[k] = a;
    out[k + 1] = b;
    out[k + 2] = c;
    out[k + 3] = d;
  }
  for (; k < count; k++) {
    let sum = 0;
    for (let i = 0; i < length; i++) sum += x[at + i]! * x[from + k + i]!;
    out[k] = sum;
  }
}

/** Longer pieces are correlated in plain code: so long is the piece with what it is compared with at most. */
const MOST = 16_384;
/** Lags are taken so many at a time. */
const TOGETHER = 8;
type Place = 'piece' | 'others' | 'widePiece' | 'wideOthers' | 'squares' | 'out';
let simd: Simd<Place> | null | undefined;
const makeSimd = (): typeof simd =>
  createSimd({
    piece: MOST,
    others: MOST + TOGETHER,
    widePiece: 2 * MOST,
    wideOthers: 2 * (MOST + TOGETHER),
    squares: 2 * MOST,
    out: 2 * (MOST + TOGETHER),
  });

/** As {@link plainCorrelations}, to the last bit, by `simd/kernels` where that can be run. */
export function correlations(
  x: Float32Array,
  at: number,
  from: number,
  length: number,
  count: number,
  floor: number,
  out: Float64Array,
): void {
  simd = simd === undefined ? makeSimd() : simd;
  if (!simd || count < 1 || length + count > MOST) {
    plainCorrelations(x, at, from, length, count, floor, out);
    return;
  }
  const { run, at: place, floats, doubles } = simd;
  floats.piece.set(x.subarray(at, at + length));
  floats.others.set(x.subarray(from, from + length + count - 1));
  run.correlate(
    place.piece,
    place.others,
    length,
    count,
    floor,
    place.widePiece,
    place.wideOthers,
    place.squares,
    place.out,
  );
  out.set(doubles.out.subarray(0, count));
}
