/**
 * Goertzel's recursion for eight frequencies at once, in 64-bit sums in the order of the plain twin (`signal/goertzel.ts`),
 * so that both give the same to the last bit.
 *
 * `turns`: 2 cos of each frequency's angle a sample; `out`: the last value of each, and then the last but one.
 */
export function goertzel(samples: usize, taper: usize, length: i32, turns: usize, out: usize): void {
  const t0 = v128.load(turns);
  const t1 = v128.load(turns, 16);
  const t2 = v128.load(turns, 32);
  const t3 = v128.load(turns, 48);
  let a0 = f64x2.splat(0);
  let a1 = a0;
  let a2 = a0;
  let a3 = a0;
  let b0 = a0;
  let b1 = a0;
  let b2 = a0;
  let b3 = a0;
  for (let i = 0; i < length; i++) {
    const value = <f64>load<f32>(samples + ((<usize>i) << 2)) * load<f64>(taper + ((<usize>i) << 3));
    const x = f64x2.splat(value);
    const n0 = f64x2.sub(f64x2.add(x, f64x2.mul(t0, a0)), b0);
    const n1 = f64x2.sub(f64x2.add(x, f64x2.mul(t1, a1)), b1);
    const n2 = f64x2.sub(f64x2.add(x, f64x2.mul(t2, a2)), b2);
    const n3 = f64x2.sub(f64x2.add(x, f64x2.mul(t3, a3)), b3);
    b0 = a0;
    b1 = a1;
    b2 = a2;
    b3 = a3;
    a0 = n0;
    a1 = n1;
    a2 = n2;
    a3 = n3;
  }
  v128.store(out, a0);
  v128.store(out, a1, 16);
  v128.store(out, a2, 32);
  v128.store(out, a3, 48);
  v128.store(out, b0, 64);
  v128.store(out, b1, 80);
  v128.store(out, b2, 96);
  v128.store(out, b3, 112);
}
