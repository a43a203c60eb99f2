import { SIMD_MODULE } from './module.ts';

type Kernel = (...args: number[]) => void;

/** What `kernels` exports; addresses are bytes. */
interface Exports {
  readonly memory: { readonly buffer: ArrayBuffer; grow(pages: number): number };
  readonly bandFrames: Kernel;
  readonly powerSpectra: Kernel;
  readonly resample: Kernel;
  readonly halve: Kernel;
  readonly correlate: Kernel;
  readonly burg: Kernel;
  readonly carryOn: Kernel;
  readonly goertzel: Kernel;
  readonly tilt: Kernel;
  readonly pitchRows: Kernel;
}

/** A copy of the module with a memory of its own. */
export interface Simd<Place extends string> {
  readonly run: Omit<Exports, 'memory'>;
  /** Byte address of each place. */
  readonly at: Readonly<Record<Place, number>>;
  /** The same places as views of floats of 32 bits and of 64, and of whole numbers. */
  readonly floats: Readonly<Record<Place, Float32Array>>;
  readonly doubles: Readonly<Record<Place, Float64Array>>;
  readonly whole: Readonly<Record<Place, Int32Array>>;
}

/** As much of WebAssembly's interface as is used: this folder knows no browser. */
interface WebAssemblyLike {
  readonly Module: new (bytes: Uint8Array) => object;
  readonly Instance: new (module: object) => { readonly exports: unknown };
}
const PAGE = 65_536;
let compiled: object | undefined;

/**
 * @param sizes of the places, in 32-bit numbers
 * @returns null where there is no WebAssembly with SIMD, or where a page's policy forbids compiled code
 */
export function createSimd<Place extends string>(sizes: Readonly<Record<Place, number>>): Simd<Place> | null {
  const { WebAssembly: wasm } = globalThis as { WebAssembly?: WebAssemblyLike };
  if (!wasm) return null;
  let exports: Exports;
  try {
    compiled ??= new wasm.Module(fromBase64(SIMD_MODULE));
    exports = new wasm.Instance(compiled).exports as Exports;
  } catch {
    return null;
  }
  const { memory, ...run } = exports;
  const names = Object.keys(sizes) as Place[];
  let top = 0;
  const at = {} as Record<Place, number>;
  for (const name of names) {
    at[name] = top;
    top += 16 * Math.ceil(sizes[name] / 4);
  }
  const short = top - memory.buffer.byteLength;
  if (short > 0) memory.grow(Math.ceil(short / PAGE));
  const floats = {} as Record<Place, Float32Array>;
  const doubles = {} as Record<Place, Float64Array>;
  const whole = {} as Record<Place, Int32Array>;
  for (const name of names) {
    floats[name] = new Float32Array(memory.buffer, at[name], sizes[name]);
    doubles[name] = new Float64Array(memory.buffer, at[name], sizes[name] >> 1);
    whole[name] = new Int32Array(memory.buffer, at[name], sizes[name]);
  }
  return { run, at, floats, doubles, whole };
}

/** How many 32-bit numbers the tables of a real transform of 2n samples take: see {@link fillTables}. */
export const tableSizes = (n: number) => ({
  turns: 2 * n,
  halfTurns: 2 * n,
  places: n,
  z: 8 * n,
  bins: 4 * (n + 1),
});

/** Writes the tables of a real transform of 2n samples. @throws RangeError unless n is a power of four */
export function fillTables({ floats, whole }: Simd<'turns' | 'halfTurns' | 'places'>, n: number): void {
  if (4 ** Math.round(Math.log2(n) / 2) !== n)
    throw new RangeError(`a transform takes twice a power of four samples, got ${2 * n}`);
  for (let k = 0; k < n; k++) {
    floats.turns.set([Math.cos((2 * Math.PI * k) / n), Math.sin((2 * Math.PI * k) / n)], 2 * k);
    floats.halfTurns.set([Math.cos((Math.PI * k) / n), Math.sin((Math.PI * k) / n)], 2 * k);
    whole.places[k] = reversedDigits(k, n);
  }
}

/** Base-4 digits of `k` in reverse: where radix-4 decimation in frequency leaves bin k of n. */
function reversedDigits(k: number, n: number): number {
  let out = 0;
  for (let left = n; left > 1; left /= 4) {
    out = 4 * out + (k & 3);
    k >>= 2;
  }
  return out;
}

const DIGITS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';
function fromBase64(text: string): Uint8Array {
  const out = new Uint8Array(Math.floor((text.replace(/=+$/, '').length * 3) / 4));
  for (let i = 0, bits = 0, at = 0; at < out.length; i++) {
    bits = ((bits << 6) | DIGITS.indexOf(text[i]!)) & 0xffffff;
    if (i % 4 > 0) out[at++] = (bits >> (6 - 2 * (i % 4))) & 0xff;
  }
  return out;
}
