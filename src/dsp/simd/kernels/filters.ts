/**
 * Filters before everything else, in 64-bit sums, each in the order of the plain twin beside its caller, so that both give
 * the same to the last bit: `signal/resampleWhole.ts` and `signal/halve.ts`.
 */

/** Places of the input that are looked at side by side. */
const LANES: i32 = 8;

/**
 * Output p of each of eight stretches of the input, `step` samples apart, is Σ rows[rowAt[p]][t] · x[starts[p] + t] over
 * t < `taps`: all eight want the same coefficients. `turned` has room for 8 · (`span`) doubles, `span` one past the last
 * sample that a stretch looks at. Stretch k's outputs are `phases` floats from `out` + 4 · k · `phases` on.
 */
export function resample(
  samples: usize,
  step: i32,
  span: i32,
  phases: i32,
  taps: i32,
  starts: usize,
  rowAt: usize,
  rows: usize,
  turned: usize,
  out: usize,
): void {
  for (let lane = 0; lane < LANES; lane++) {
    const from = samples + ((<usize>(lane * step)) << 2);
    const to = turned + ((<usize>lane) << 3);
    for (let j = 0; j < span; j++)
      store<f64>(to + ((<usize>j) << 6), <f64>load<f32>(from + ((<usize>j) << 2)));
  }
  const length = (<usize>taps) << 3;
  const row = (<usize>phases) << 2;
  for (let p = 0; p < phases; p++) {
    const place = (<usize>p) << 2;
    let w = rows + <usize>load<i32>(rowAt + place) * length;
    let x = turned + ((<usize>load<i32>(starts + place)) << 6);
    const end = w + length;
    let a = f64x2.splat(0);
    let b = f64x2.splat(0);
    let c = f64x2.splat(0);
    let d = f64x2.splat(0);
    for (; w < end; w += 8, x += 64) {
      const tap = v128.load64_splat(w);
      a = f64x2.add(a, f64x2.mul(v128.load(x), tap));
      b = f64x2.add(b, f64x2.mul(v128.load(x, 16), tap));
      c = f64x2.add(c, f64x2.mul(v128.load(x, 32), tap));
      d = f64x2.add(d, f64x2.mul(v128.load(x, 48), tap));
    }
    let to = out + place;
    storeBoth(to, row, a);
    to += 2 * row;
    storeBoth(to, row, b);
    to += 2 * row;
    storeBoth(to, row, c);
    to += 2 * row;
    storeBoth(to, row, d);
  }
}

/** Both doubles as floats, the second `row` bytes further on. */
function storeBoth(to: usize, row: usize, both: v128): void {
  const single = f32x4.demote_f64x2_zero(both);
  v128.store_lane<f32>(to, single, 0);
  v128.store_lane<f32>(to + row, single, 1);
}

/**
 * Every other of 2 · `count` samples after a filter that is 0 at even distances but its middle, ½; `side`: its `reach`
 * taps at odd distances. `samples` begins 2 · `reach` samples before the first; `count` is a multiple of eight; `even` and
 * `odd` have room for `count` + 2 · `reach` doubles.
 */
export function halve(
  samples: usize,
  count: i32,
  side: usize,
  reach: i32,
  even: usize,
  odd: usize,
  out: usize,
): void {
  for (let j = 0; j < count + 2 * reach; j++) {
    const from = samples + ((<usize>j) << 3);
    const to = (<usize>j) << 3;
    store<f64>(even + to, <f64>load<f32>(from));
    store<f64>(odd + to, <f64>load<f32>(from, 4));
  }
  const half = f64x2.splat(0.5);
  for (let q = 0; q < count; q += 8) {
    const middle = (<usize>(q + reach)) << 3;
    let a = f64x2.mul(half, v128.load(even + middle));
    let b = f64x2.mul(half, v128.load(even + middle, 16));
    let c = f64x2.mul(half, v128.load(even + middle, 32));
    let d = f64x2.mul(half, v128.load(even + middle, 48));
    let low = odd + middle - 8;
    let high = odd + middle;
    for (let i = 0; i < reach; i++, low -= 8, high += 8) {
      const tap = v128.load64_splat(side + ((<usize>i) << 3));
      a = f64x2.add(a, f64x2.mul(tap, f64x2.add(v128.load(low), v128.load(high))));
      b = f64x2.add(b, f64x2.mul(tap, f64x2.add(v128.load(low, 16), v128.load(high, 16))));
      c = f64x2.add(c, f64x2.mul(tap, f64x2.add(v128.load(low, 32), v128.load(high, 32))));
      d = f64x2.add(d, f64x2.mul(tap, f64x2.add(v128.load(low, 48), v128.load(high, 48))));
    }
    const to = out + ((<usize>q) << 2);
    v128.store64_lane(to, f32x4.demote_f64x2_zero(a), 0);
    v128.store64_lane(to, f32x4.demote_f64x2_zero(b), 0, 8);
    v128.store64_lane(to, f32x4.demote_f64x2_zero(c), 0, 16);
    v128.store64_lane(to, f32x4.demote_f64x2_zero(d), 0, 24);
  }
}
