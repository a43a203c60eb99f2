/**
 * Normalised correlations in 64-bit sums, each in the order of the plain twin (`signal/correlations.ts`), so that both
 * give the same to the last bit.
 */

/** `count` floats as doubles. */
function widen(from: usize, count: i32, to: usize): void {
  for (let i = 0; i < count; i++)
    store<f64>(to + ((<usize>i) << 3), <f64>load<f32>(from + ((<usize>i) << 2)));
}

/**
 * out[k] = Σ piece[i] · others[k + i] / √(Σ piece[i]² · Σ others[k + i]² + floor) over i < `length`, for k < `count`.
 * `others` holds `length` + `count` − 1 floats, and 8 more that are not looked at for the answer; the wide places and `squares` have room
 * for as many doubles, `out` for a multiple of eight.
 */
export function correlate(
  piece: usize,
  others: usize,
  length: i32,
  count: i32,
  floor: f64,
  widePiece: usize,
  wideOthers: usize,
  squares: usize,
  out: usize,
): void {
  const reach = length + count;
  widen(piece, length, widePiece);
  widen(others, reach + 8, wideOthers);
  let own: f64 = 0;
  let sum: f64 = 0;
  store<f64>(squares, 0);
  for (let i = 1; i < reach; i++) {
    const at = (<usize>i) << 3;
    const v = load<f64>(wideOthers + at - 8);
    sum += v * v;
    store<f64>(squares + at, sum);
    if (i > length) continue;
    const o = load<f64>(widePiece + at - 8);
    own += o * o;
  }
  const end = widePiece + ((<usize>length) << 3);
  for (let k = 0; k < count; k += 8) {
    let y = wideOthers + ((<usize>k) << 3);
    let a = f64x2.splat(0);
    let b = f64x2.splat(0);
    let c = f64x2.splat(0);
    let d = f64x2.splat(0);
    for (let x = widePiece; x < end; x += 8, y += 8) {
      const v = v128.load64_splat(x);
      a = f64x2.add(a, f64x2.mul(v, v128.load(y)));
      b = f64x2.add(b, f64x2.mul(v, v128.load(y, 16)));
      c = f64x2.add(c, f64x2.mul(v, v128.load(y, 32)));
      d = f64x2.add(d, f64x2.mul(v, v128.load(y, 48)));
    }
    const to = out + ((<usize>k) << 3);
    v128.store(to, a);
    v128.store(to, b, 16);
    v128.store(to, c, 32);
    v128.store(to, d, 48);
  }
  for (let k = 0; k < count; k++) {
    const at = (<usize>k) << 3;
    const energy = load<f64>(squares + ((<usize>(k + length)) << 3)) - load<f64>(squares + at);
    store<f64>(out + at, load<f64>(out + at) / sqrt<f64>(own * energy + floor));
  }
}
