/**
 * How periodic a signal is at each semitone, frame by frame: `pitch/salience.ts` is the door and says what is computed.
 * Products are 32-bit sums of four lags at a time; everything after them is computed as the plain twin computes it, to
 * the last bit.
 */

/**
 * x[i] − share · x[i − 1] as floats at `out`, and the running sum of its squares as doubles at `energy` + 8, to be added
 * to what stands at `energy`; from sample `real` on silence. A sample precedes `samples`.
 */
export function tilt(samples: usize, count: i32, real: i32, share: f64, out: usize, energy: usize): void {
  let sum = load<f64>(energy);
  let before = <f64>load<f32>(samples - 4);
  for (let i = 0; i < count; i++) {
    let value: f64 = 0;
    if (i < real) {
      const now = <f64>load<f32>(samples + ((<usize>i) << 2));
      value = now - share * before;
      before = now;
    }
    store<f32>(out + ((<usize>i) << 2), <f32>value);
    sum += value * value;
    store<f64>(energy + ((<usize>i) << 3), sum, 8);
  }
}

/** Sums of products of a block of `size` samples with what lies `lag` further on, for `lags` lags, a multiple of 16. */
function blockProducts(from: usize, size: i32, lags: i32, out: usize): void {
  const end = from + ((<usize>size) << 2);
  for (let lag = 0; lag < lags; lag += 16) {
    const shift = (<usize>lag) << 2;
    let a = f32x4.splat(0);
    let b = f32x4.splat(0);
    let c = f32x4.splat(0);
    let d = f32x4.splat(0);
    for (let at = from; at < end; at += 4) {
      const x = v128.load32_splat(at);
      const y = at + shift;
      a = f32x4.add(a, f32x4.mul(x, v128.load(y)));
      b = f32x4.add(b, f32x4.mul(x, v128.load(y, 16)));
      c = f32x4.add(c, f32x4.mul(x, v128.load(y, 32)));
      d = f32x4.add(d, f32x4.mul(x, v128.load(y, 48)));
    }
    v128.store(out + shift, a);
    v128.store(out + shift, b, 16);
    v128.store(out + shift, c, 32);
    v128.store(out + shift, d, 48);
  }
}

function two(from: usize): v128 {
  return f64x2.promote_low_f32x4(v128.load64_zero(from));
}

/** `sum` + the entering − the leaving products (0: none leave), two at a time. */
function moveOn(sum: usize, entering: usize, leaving: usize, count: i32): void {
  const end = sum + ((<usize>count) << 3);
  if (leaving === 0) {
    for (; sum < end; sum += 16, entering += 8) v128.store(sum, f64x2.add(v128.load(sum), two(entering)));
    return;
  }
  for (; sum < end; sum += 16, entering += 8, leaving += 8)
    v128.store(sum, f64x2.sub(f64x2.add(v128.load(sum), two(entering)), two(leaving)));
}

/** YIN's normalised difference of a window of `width` samples for lags under `lags`; `energy` at the window's begin. */
function normalise(energy: usize, products: usize, width: i32, dither: f64, out: usize, lags: i32): void {
  const across = (<usize>width) << 3;
  const own = load<f64>(energy + across) - load<f64>(energy);
  const owns = f64x2.splat(own);
  const dithers = f64x2.splat(dither);
  const zero = f64x2.splat(0);
  const twice = f64x2.splat(2);
  let numbers = f64x2(1, 2);
  let sum: f64 = 0;
  store<f64>(out, 1);
  let lag = 1;
  for (; lag + 1 < lags; lag += 2) {
    const at = (<usize>lag) << 3;
    const other = f64x2.sub(v128.load(energy + at + across), v128.load(energy + at));
    const raw = f64x2.sub(f64x2.add(owns, other), f64x2.mul(twice, v128.load(products + at)));
    const d = f64x2.add(f64x2.pmax(zero, raw), dithers);
    const first = sum + f64x2.extract_lane(d, 0);
    sum = first + f64x2.extract_lane(d, 1);
    const sums = f64x2.replace_lane(f64x2.splat(first), 1, sum);
    v128.store(out + at, f64x2.div(f64x2.mul(d, numbers), sums));
    numbers = f64x2.add(numbers, twice);
  }
  if (lag < lags) {
    const at = (<usize>lag) << 3;
    const other = load<f64>(energy + at + across) - load<f64>(energy + at);
    const raw = own + other - 2 * load<f64>(products + at);
    const d = (raw > 0 ? raw : 0) + dither;
    store<f64>(out + at, (d * <f64>lag) / (sum + d));
  }
}

function between(values: usize, at: f64): f64 {
  const whole = floor<f64>(at);
  const from = values + ((<usize>(<i32>whole)) << 3);
  const low = load<f64>(from);
  return low + (at - whole) * (load<f64>(from, 8) - low);
}

/** Where number `n` of some doubles stands. */
function nth(doubles: usize, n: i32): usize {
  return doubles + ((<usize>n) << 3);
}

/**
 * 1 − the least difference within each pitch's lags, for pitches from `lowest` on: the least of what stands at its edges,
 * at the lags between them, and at the minima between lags. `edges` fall; `inner`: for each pitch the first lag within its
 * edges and one past the last; `pitchOf`: the pitch of each lag.
 */
function bestPerPitch(
  difference: usize,
  edges: usize,
  inner: usize,
  pitchOf: usize,
  pitches: i32,
  lowest: i32,
  out: usize,
): void {
  let last = load<f64>(edges + ((<usize>pitches) << 3));
  const first = <i32>floor<f64>(last);
  let atLast = between(difference, last);
  for (let n = pitches - 1; n >= lowest; n--) {
    last = load<f64>(nth(edges, n));
    const atNext = between(difference, last);
    let least = f64x2.splat(atNext < atLast ? atNext : atLast);
    atLast = atNext;
    const lags = inner + ((<usize>n) << 3);
    let at = difference + ((<usize>load<i32>(lags)) << 3);
    const end = difference + ((<usize>load<i32>(lags, 4)) << 3);
    for (; at + 8 < end; at += 16) least = f64x2.pmin(least, v128.load(at));
    if (at < end) least = f64x2.pmin(least, v128.load64_splat(at));
    const a = f64x2.extract_lane(least, 0);
    const b = f64x2.extract_lane(least, 1);
    store<f64>(nth(out, n), b < a ? b : a);
  }
  const end = <i32>ceil<f64>(last);
  for (let lag = first; lag <= end; lag += 2) {
    const at = difference + ((<usize>lag) << 3);
    const here = v128.load(at);
    const low = i64x2.bitmask(v128.and(f64x2.le(here, v128.load(at - 8)), f64x2.le(here, v128.load(at, 8))));
    if (low === 0) continue;
    if (low & 1) placeMinimum(at, lag, edges, pitchOf, pitches, lowest, out);
    if (low & 2 && lag < end) placeMinimum(at + 8, lag + 1, edges, pitchOf, pitches, lowest, out);
  }
  for (let n = lowest; n < pitches; n++) {
    const found = 1 - load<f64>(nth(out, n));
    store<f64>(nth(out, n), found < 0 ? 0 : found > 1 ? 1 : found);
  }
}

/** The minimum of a parabola through the difference at a lag and beside it counts for the pitch within whose lags it lies. */
function placeMinimum(
  at: usize,
  lag: i32,
  edges: usize,
  pitchOf: usize,
  pitches: i32,
  lowest: i32,
  out: usize,
): void {
  const left = load<f64>(at - 8);
  const here = load<f64>(at);
  const right = load<f64>(at, 8);
  const curve = left - 2 * here + right;
  const shift = curve > 0 ? (0.5 * (left - right)) / curve : 0;
  const place = <f64>lag + shift;
  let n = load<i32>(pitchOf + ((<usize>lag) << 2));
  while (n < pitches && place < load<f64>(nth(edges, n + 1))) n++;
  while (n >= lowest && place > load<f64>(nth(edges, n))) n--;
  if (n < lowest || n >= pitches) return;
  const value = here - 0.25 * (left - right) * shift;
  if (value < load<f64>(nth(out, n))) store<f64>(nth(out, n), value);
}

/**
 * Salience of each pitch in the frames that end with each of `blocks` blocks of `hop` samples, a row of `pitches` floats
 * for each at `out`, and the greatest of it at `tops`; before the first whole frame a row is left as it is. `first`: number of the first block; `samples`
 * begins with it, `energy` `long` − 1 blocks before. The long window has `long` blocks, the short one `short`, from the
 * second of the long one on, and is asked for pitches from `shortFrom` on. `lags`: kept for each block, a multiple of 16.
 * `ring` has room for `long` + 1 rows of them; it and both sums are kept from call to call.
 */
export function pitchRows(
  samples: usize,
  energy: usize,
  hop: i32,
  first: i32,
  blocks: i32,
  long: i32,
  short: i32,
  lags: i32,
  longLags: i32,
  shortLags: i32,
  ring: usize,
  longSums: usize,
  shortSums: usize,
  difference: usize,
  edges: usize,
  inner: usize,
  pitchOf: usize,
  pitches: i32,
  shortFrom: i32,
  longBest: usize,
  shortBest: usize,
  dither: f64,
  out: usize,
  tops: usize,
): void {
  const row = (<usize>lags) << 2;
  const kept = long + 1;
  for (let k = 0; k < blocks; k++) {
    const block = first + k;
    const start = (<usize>(k * hop)) << 2;
    const entering = ring + <usize>(block % kept) * row;
    blockProducts(samples + start, hop, lags, entering);
    moveOn(longSums, entering, block < long ? 0 : ring + <usize>((block - long) % kept) * row, longLags);
    if (block > 0)
      moveOn(
        shortSums,
        ring + <usize>((block - 1) % kept) * row,
        block - 1 < short ? 0 : ring + <usize>((block - 1 - short) % kept) * row,
        shortLags,
      );
    if (block < long - 1) continue;
    const at = energy + 2 * start;
    normalise(at, longSums, long * hop, dither * <f64>long, difference, longLags);
    bestPerPitch(difference, edges, inner, pitchOf, pitches, 0, longBest);
    normalise(at + ((<usize>hop) << 3), shortSums, short * hop, dither * <f64>short, difference, shortLags);
    bestPerPitch(difference, edges, inner, pitchOf, pitches, shortFrom, shortBest);
    const to = out + ((<usize>(k * pitches)) << 2);
    let best: f32 = 0;
    for (let n = 0; n < pitches; n++) {
      const value = load<f64>(nth(longBest, n));
      const salience = <f32>(n < shortFrom ? value : 0.5 * (value + load<f64>(nth(shortBest, n))));
      store<f32>(to + ((<usize>n) << 2), salience);
      if (salience > best) best = salience;
    }
    store<f32>(tops + ((<usize>k) << 2), best);
  }
}
