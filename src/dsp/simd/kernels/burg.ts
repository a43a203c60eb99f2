/** Linear prediction in 64-bit numbers, in the order of the plain twin (`signal/burg.ts`) and so the same to the last bit. */

/**
 * Burg's method on `n` doubles: 1, a₁ … at `a`, which has room for `order` + 1 as `old` does; `forward` and `backward`
 * have room for `n`. At `powers` the power of x and what is left of it.
 */
export function burg(
  x: usize,
  n: i32,
  order: i32,
  forward: usize,
  backward: usize,
  a: usize,
  old: usize,
  powers: usize,
): void {
  let before = load<f64>(x);
  let num: f64 = 0;
  let den: f64 = 1e-12;
  let power = before * before;
  store<f64>(forward, before);
  store<f64>(backward, before);
  for (let i = 1; i < n; i++) {
    const at = (<usize>i) << 3;
    const now = load<f64>(x + at);
    store<f64>(forward + at, now);
    store<f64>(backward + at, now);
    num += now * before;
    den += now * now + before * before;
    power += now * now;
    before = now;
  }
  let error = power;
  store<f64>(a, 1);
  for (let i = 1; i <= order; i++) store<f64>(a + ((<usize>i) << 3), 0);
  for (let m = 1; m <= order; m++) {
    const k = (-2 * num) / den;
    num = 0;
    den = 1e-12;
    let at = (<usize>m) << 3;
    const end = (<usize>n) << 3;
    let delayed = load<f64>(backward + at - 8);
    let last: f64 = 0;
    if (at < end) {
      const was = load<f64>(forward + at);
      last = delayed + k * was;
      store<f64>(forward + at, was + k * delayed);
      delayed = load<f64>(backward + at);
      store<f64>(backward + at, last);
      at += 8;
    }
    for (; at < end; at += 8) {
      const was = load<f64>(forward + at);
      const f = was + k * delayed;
      const b = delayed + k * was;
      delayed = load<f64>(backward + at);
      store<f64>(forward + at, f);
      store<f64>(backward + at, b);
      num += f * last;
      den += f * f + last * last;
      last = b;
    }
    for (let i = 0; i < m; i++) store<f64>(old + ((<usize>i) << 3), load<f64>(a + ((<usize>i) << 3)));
    store<f64>(old + ((<usize>m) << 3), 0);
    for (let i = 1; i <= m; i++) {
      const place = (<usize>i) << 3;
      store<f64>(a + place, load<f64>(old + place) + k * load<f64>(old + ((<usize>(m - i)) << 3)));
    }
    error *= 1 - k * k;
  }
  store<f64>(powers, power);
  store<f64>(powers, error, 8);
}

/** Carries a wave of doubles on from sample `from` to `to` by what foretells it: x[i] = −Σ a[k] x[i − k] over k ≤ `order`. */
export function carryOn(x: usize, from: i32, to: i32, a: usize, order: i32): void {
  for (let i = from; i < to; i++) {
    const at = x + ((<usize>i) << 3);
    let sum: f64 = 0;
    for (let k = 1; k <= order; k++) {
      const shift = (<usize>k) << 3;
      sum -= load<f64>(a + shift) * load<f64>(at - shift);
    }
    store<f64>(at, sum);
  }
}
