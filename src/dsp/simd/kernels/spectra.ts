/**
 * Spectra of four frames at a time, one in each lane of a SIMD register, and what a bank of bands holds of them;
 * `frames/bandFrames.ts` and `pitch/comb.ts` are the doors, and say the same in plain TypeScript. All numbers are 32-bit
 * floats, as what is handed out is kept as 32-bit floats anyway.
 *
 * A frame of `2 * n` real samples is read as n complex numbers, transformed by radix-4 decimation in frequency (Cooley &
 * Tukey 1965) in place, n a power of four, and untangled (Press et al., Numerical Recipes, section 12.3).
 */

/** Complex number i of four frames: real parts, then imaginary parts. */
function at(z: usize, i: i32): usize {
  return z + ((<usize>i) << 5);
}

/** Complex numbers i and i + 1 of four frames, each read from a register of its own. */
function turnFour(a: v128, b: v128, c: v128, d: v128, to: usize): void {
  const ab = v128.shuffle<f32>(a, b, 0, 4, 1, 5);
  const cd = v128.shuffle<f32>(c, d, 0, 4, 1, 5);
  const abHigh = v128.shuffle<f32>(a, b, 2, 6, 3, 7);
  const cdHigh = v128.shuffle<f32>(c, d, 2, 6, 3, 7);
  v128.store(to, v128.shuffle<f32>(ab, cd, 0, 1, 4, 5));
  v128.store(to, v128.shuffle<f32>(ab, cd, 2, 3, 6, 7), 16);
  v128.store(to, v128.shuffle<f32>(abHigh, cdHigh, 0, 1, 4, 5), 32);
  v128.store(to, v128.shuffle<f32>(abHigh, cdHigh, 2, 3, 6, 7), 48);
}

/** Four frames, `hop` samples apart, times `shape`, turned so that each lane is a frame. */
function loadFour(samples: usize, hop: i32, shape: usize, z: usize, n: i32): void {
  const step = (<usize>hop) << 2;
  for (let i = 0; i < n; i += 2) {
    const offset = (<usize>i) << 3;
    const w = v128.load(shape + offset);
    const from = samples + offset;
    const a = f32x4.mul(v128.load(from), w);
    const b = f32x4.mul(v128.load(from + step), w);
    const c = f32x4.mul(v128.load(from + 2 * step), w);
    const d = f32x4.mul(v128.load(from + 3 * step), w);
    turnFour(a, b, c, d, at(z, i));
  }
}

/** The same of four rows of 2n samples of which `used`, an even number, are not silence. */
function loadRows(rows: usize, used: i32, z: usize, n: i32): void {
  const step = (<usize>n) << 3;
  const whole = (used >> 2) << 1;
  for (let i = 0; i < whole; i += 2) {
    const from = rows + ((<usize>i) << 3);
    turnFour(
      v128.load(from),
      v128.load(from + step),
      v128.load(from + 2 * step),
      v128.load(from + 3 * step),
      at(z, i),
    );
  }
  let i = whole;
  if (used & 2) {
    const from = rows + ((<usize>i) << 3);
    turnFour(
      v128.load64_zero(from),
      v128.load64_zero(from + step),
      v128.load64_zero(from + 2 * step),
      v128.load64_zero(from + 3 * step),
      at(z, i),
    );
    i += 2;
  }
  const zero = f32x4.splat(0);
  for (; i < n; i++) {
    v128.store(at(z, i), zero);
    v128.store(at(z, i), zero, 16);
  }
}

/** n complex numbers to their spectrum, left in the order of reversed base-4 digits. `turns`: cos, sin of 2πk/n. */
function transform(z: usize, n: i32, turns: usize): void {
  let step = 1;
  for (let length = n; length >= 4; length >>= 2) {
    const quarter = length >> 2;
    const q = (<usize>quarter) << 5;
    for (let k = 0; k < quarter; k++) {
      const t1 = turns + ((<usize>(k * step)) << 3);
      const t2 = turns + ((<usize>(2 * k * step)) << 3);
      const t3 = turns + ((<usize>(3 * k * step)) << 3);
      const c1 = v128.load32_splat(t1);
      const s1 = v128.load32_splat(t1, 4);
      const c2 = v128.load32_splat(t2);
      const s2 = v128.load32_splat(t2, 4);
      const c3 = v128.load32_splat(t3);
      const s3 = v128.load32_splat(t3, 4);
      for (let i = k; i < n; i += length) {
        const pa = at(z, i);
        const pb = pa + q;
        const pc = pb + q;
        const pd = pc + q;
        const ar = v128.load(pa);
        const ai = v128.load(pa, 16);
        const br = v128.load(pb);
        const bi = v128.load(pb, 16);
        const cr = v128.load(pc);
        const ci = v128.load(pc, 16);
        const dr = v128.load(pd);
        const di = v128.load(pd, 16);
        const acr = f32x4.add(ar, cr);
        const aci = f32x4.add(ai, ci);
        const amr = f32x4.sub(ar, cr);
        const ami = f32x4.sub(ai, ci);
        const bdr = f32x4.add(br, dr);
        const bdi = f32x4.add(bi, di);
        const bmr = f32x4.sub(br, dr);
        const bmi = f32x4.sub(bi, di);
        v128.store(pa, f32x4.add(acr, bdr));
        v128.store(pa, f32x4.add(aci, bdi), 16);
        const y1r = f32x4.add(amr, bmi);
        const y1i = f32x4.sub(ami, bmr);
        const y2r = f32x4.sub(acr, bdr);
        const y2i = f32x4.sub(aci, bdi);
        const y3r = f32x4.sub(amr, bmi);
        const y3i = f32x4.add(ami, bmr);
        if (k === 0) {
          v128.store(pb, y1r);
          v128.store(pb, y1i, 16);
          v128.store(pc, y2r);
          v128.store(pc, y2i, 16);
          v128.store(pd, y3r);
          v128.store(pd, y3i, 16);
        } else {
          // Times cos − i sin.
          v128.store(pb, f32x4.add(f32x4.mul(y1r, c1), f32x4.mul(y1i, s1)));
          v128.store(pb, f32x4.sub(f32x4.mul(y1i, c1), f32x4.mul(y1r, s1)), 16);
          v128.store(pc, f32x4.add(f32x4.mul(y2r, c2), f32x4.mul(y2i, s2)));
          v128.store(pc, f32x4.sub(f32x4.mul(y2i, c2), f32x4.mul(y2r, s2)), 16);
          v128.store(pd, f32x4.add(f32x4.mul(y3r, c3), f32x4.mul(y3i, s3)));
          v128.store(pd, f32x4.sub(f32x4.mul(y3i, c3), f32x4.mul(y3r, s3)), 16);
        }
      }
    }
    step <<= 2;
  }
}

function square(re: v128, im: v128): v128 {
  return f32x4.add(f32x4.mul(re, re), f32x4.mul(im, im));
}

/**
 * Powers of bins 1 … `count` − 1 of the real frames, square roots of them where `root` is set; `places` says where in z
 * each bin of the complex spectrum stands, `halfTurns` holds cos, sin of πk/n.
 */
function powers(z: usize, n: i32, places: usize, halfTurns: usize, out: usize, count: i32, root: i32): void {
  const half = f32x4.splat(0.5);
  for (let k = 1, j = n - 1; k <= j && k < count; k++, j--) {
    const pa = at(z, load_i32(places, k));
    const pb = at(z, load_i32(places, j));
    const ar = v128.load(pa);
    const ai = v128.load(pa, 16);
    const br = v128.load(pb);
    const bi = v128.load(pb, 16);
    const evenRe = f32x4.mul(half, f32x4.add(ar, br));
    const evenIm = f32x4.mul(half, f32x4.sub(ai, bi));
    const oddRe = f32x4.mul(half, f32x4.add(ai, bi));
    const oddIm = f32x4.mul(half, f32x4.sub(br, ar));
    const turn = halfTurns + ((<usize>k) << 3);
    const c = v128.load32_splat(turn);
    const s = v128.load32_splat(turn, 4);
    const turnRe = f32x4.add(f32x4.mul(oddRe, c), f32x4.mul(oddIm, s));
    const turnIm = f32x4.sub(f32x4.mul(oddIm, c), f32x4.mul(oddRe, s));
    let low = square(f32x4.add(evenRe, turnRe), f32x4.add(evenIm, turnIm));
    if (root) low = f32x4.sqrt(low);
    v128.store(out + ((<usize>k) << 4), low);
    if (j < count) {
      let high = square(f32x4.sub(evenRe, turnRe), f32x4.sub(turnIm, evenIm));
      if (root) high = f32x4.sqrt(high);
      v128.store(out + ((<usize>j) << 4), high);
    }
  }
}

function load_i32(base: usize, i: i32): i32 {
  return load<i32>(base + ((<usize>i) << 2));
}

/**
 * Band b of each frame is Σ weights[w] · bin[start[b] + …] over w from `from[b]` to `from[b + 1]`, kept at
 * `out[frame * bands + b]`. `frames` is a multiple of four; samples must reach to the end of the last.
 */
export function bandFrames(
  samples: usize,
  hop: i32,
  frames: i32,
  shape: usize,
  n: i32,
  turns: usize,
  halfTurns: usize,
  places: usize,
  z: usize,
  bins: usize,
  count: i32,
  root: i32,
  bands: i32,
  start: usize,
  from: usize,
  weights: usize,
  out: usize,
): void {
  const row = (<usize>bands) << 2;
  for (let frame = 0; frame < frames; frame += 4) {
    loadFour(samples + ((<usize>(frame * hop)) << 2), hop, shape, z, n);
    transform(z, n, turns);
    powers(z, n, places, halfTurns, bins, count, root);
    for (let b = 0; b < bands; b++) {
      let sum = f32x4.splat(0);
      let bin = bins + ((<usize>load_i32(start, b)) << 4);
      const end = load_i32(from, b + 1);
      for (let w = load_i32(from, b); w < end; w++) {
        sum = f32x4.add(sum, f32x4.mul(v128.load32_splat(weights + ((<usize>w) << 2)), v128.load(bin)));
        bin += 16;
      }
      const to = out + <usize>frame * row + ((<usize>b) << 2);
      v128.store_lane<f32>(to, sum, 0);
      v128.store_lane<f32>(to + row, sum, 1);
      v128.store_lane<f32>(to + 2 * row, sum, 2);
      v128.store_lane<f32>(to + 3 * row, sum, 3);
    }
  }
}

/**
 * Powers of bins 0 … n of up to four real signals, a row of 2n samples apart, of which the first `used`, an even number,
 * are looked at: silence follows them. The answers are `signals` rows of `n + 1` powers.
 */
export function powerSpectra(
  rows: usize,
  signals: i32,
  used: i32,
  n: i32,
  turns: usize,
  halfTurns: usize,
  places: usize,
  z: usize,
  bins: usize,
  out: usize,
): void {
  loadRows(rows, used, z, n);
  transform(z, n, turns);
  powers(z, n, places, halfTurns, bins, n, 0);
  const re = v128.load(z);
  const im = v128.load(z, 16);
  const sum = f32x4.add(re, im);
  const difference = f32x4.sub(re, im);
  v128.store(bins, f32x4.mul(sum, sum));
  v128.store(bins + ((<usize>n) << 4), f32x4.mul(difference, difference));
  const row = (<usize>(n + 1)) << 2;
  for (let k = 0; k <= n; k++) {
    const all = v128.load(bins + ((<usize>k) << 4));
    const to = out + ((<usize>k) << 2);
    v128.store_lane<f32>(to, all, 0);
    if (signals > 1) v128.store_lane<f32>(to + row, all, 1);
    if (signals > 2) v128.store_lane<f32>(to + 2 * row, all, 2);
    if (signals > 3) v128.store_lane<f32>(to + 3 * row, all, 3);
  }
}
