/** A plain complex radix-2 FFT, 2048 points: the unit in which speeds on different machines are compared. */
const SIZE = 2048;
const cos = Float64Array.from({ length: SIZE / 2 }, (_, k) => Math.cos((2 * Math.PI * k) / SIZE));
const sin = Float64Array.from({ length: SIZE / 2 }, (_, k) => -Math.sin((2 * Math.PI * k) / SIZE));

function fft(re: Float64Array, im: Float64Array): void {
  for (let i = 1, j = 0; i < SIZE; i++) {
    let bit = SIZE >> 1;
    for (; j & bit; bit >>= 1) j ^= bit;
    j ^= bit;
    if (i < j) {
      [re[i], re[j]] = [re[j]!, re[i]!];
      [im[i], im[j]] = [im[j]!, im[i]!];
    }
  }
  for (let half = 1; half < SIZE; half *= 2)
    for (let start = 0; start < SIZE; start += 2 * half)
      for (let k = 0; k < half; k++) {
        const w = (k * SIZE) / (2 * half);
        const a = start + k;
        const b = a + half;
        const x = re[b]! * cos[w]! - im[b]! * sin[w]!;
        const y = re[b]! * sin[w]! + im[b]! * cos[w]!;
        re[b] = re[a]! - x;
        im[b] = im[a]! - y;
        re[a]! += x;
        im[a]! += y;
      }
}

/** What a transform takes on the quiet core that speeds are stated for. */
export const QUIET_CORE_US = 111;

/** Microseconds a transform: the fastest of ten runs of 200, so that other work on the machine shows least. */
export function fftMicroseconds(): number {
  const re = new Float64Array(SIZE);
  const im = new Float64Array(SIZE);
  let best = Infinity;
  for (let run = 0; run < 10; run++) {
    const from = performance.now();
    for (let i = 0; i < 200; i++) {
      re.fill(0).fill(1, 0, 37);
      im.fill(0);
      fft(re, im);
    }
    best = Math.min(best, ((performance.now() - from) * 1000) / 200);
  }
  return best;
}
