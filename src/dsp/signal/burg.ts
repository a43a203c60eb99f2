import { createSimd, type Simd } from '../simd/instance.ts';

/** What foretells a wave. */
export interface Foretelling {
  /** 1, a₁ … */
  readonly a: Float64Array;
  /** Logarithm of the wave's power over what is missed of it. */
  readonly gain: number;
}

const foretelling = (a: Float64Array, power: number, error: number): Foretelling => ({
  a,
  gain: Math.log10((power + 1e-9) / (error + 1e-9)),
});

/**
 * Linear prediction by Burg's method (Burg 1967; Kay & Marple, Proc. IEEE 69, 1981), which needs no window and so foretells
 * for long. @param x at least one sample
 */
export function plainBurg(x: Float64Array, order: number): Foretelling {
  const n = x.length;
  const forward = x.slice();
  const backward = x.slice();
  const a = new Float64Array(order + 1);
  const old = new Float64Array(order + 1);
  a[0] = 1;
  let [num, den, power] = [0, 1e-12, x[0]! ** 2];
  for (let i = 1; i < n; i++) {
    num += x[i]! * x[i - 1]!;
    den += x[i]! ** 2 + x[i - 1]! ** 2;
    power += x[i]! ** 2;
  }
  let error = power;
  for (let m = 1; m <= order; m++) {
    const k = (-2 * num) / den;
    num = 0;
    den = 1e-12;
    let delayed = backward[m - 1]!;
    let last = 0;
    for (let i = m; i < n; i++) {
      const f = forward[i]! + k * delayed;
      const b = delayed + k * forward[i]!;
      delayed = backward[i]!;
      forward[i] = f;
      backward[i] = b;
      if (i > m) {
        num += f * last;
        den += f * f + last * last;
      }
      last = b;
    }
    old.set(a);
    for (let i = 1; i <= m; i++) a[i] = old[i]! + k * old[m - i]!;
    error *= 1 - k * k;
  }
  return foretelling(a, power, error);
}

/** Carries `x` on from sample `from` to `to` as it is foretold; the samples before stand there. */
export function plainCarryOn(x: Float64Array, from: number, to: number, a: Float64Array): void {
  for (let i = from; i < to; i++) {
    let sum = 0;
    for (let k = 1; k < a.length; k++) sum -= a[k]! * x[i - k]!;
    x[i] = sum;
  }
}

/** Longer waves, and more coefficients, are left to plain code. */
const LONGEST = 2048;
type Place = 'x' | 'forward' | 'backward' | 'a' | 'old' | 'powers';
let simd: Simd<Place> | null | undefined;
function simdFor(length: number, order: number): typeof simd {
  const size = 2 * LONGEST;
  simd =
    simd === undefined
      ? createSimd({ x: size, forward: size, backward: size, a: size, old: size, powers: 4 })
      : simd;
  return length <= LONGEST && order < length ? simd : null;
}

/** As {@link plainBurg}, to the last bit, by `simd/kernels` where that can be run. */
export function burg(x: Float64Array, order: number): Foretelling {
  const kernels = simdFor(x.length, order);
  if (!kernels) return plainBurg(x, order);
  const { run, at, doubles } = kernels;
  doubles.x.set(x);
  run.burg(at.x, x.length, order, at.forward, at.backward, at.a, at.old, at.powers);
  return foretelling(doubles.a.slice(0, order + 1), doubles.powers[0]!, doubles.powers[1]!);
}

/** As {@link plainCarryOn}, to the last bit, by `simd/kernels` where that can be run. */
export function carryOn(x: Float64Array, from: number, to: number, a: Float64Array): void {
  const kernels = simdFor(to, a.length - 1);
  if (!kernels) {
    plainCarryOn(x, from, to, a);
    return;
  }
  const { run, at, doubles } = kernels;
  doubles.x.set(x.subarray(0, from));
  doubles.a.set(a);
  run.carryOn(at.x, from, to, at.a, a.length - 1);
  x.set(doubles.x.subarray(from, to), from);
}
