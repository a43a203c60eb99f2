/** Half-band low-pass taps at odd distances 1, 3, 5 …: windowed sinc, 15 taps a side, stop band < −60 dB. */
const SIDE = Float64Array.from({ length: 12 }, (_, i) => {
  const x = 2 * i + 1;
  const arg = (Math.PI * x) / 2;
  const window = 0.42 + 0.5 * Math.cos((Math.PI * x) / 25) + 0.08 * Math.cos((2 * Math.PI * x) / 25);
  return ((0.5 * Math.sin(arg)) / arg) * window;
});

/**
 * Half the samples, free of what would alias, without delay: output m stands for input sample 2 m.
 * Beyond both ends the input counts as silent. Length is ceil(input length / 2).
 */
export function halve(input: Float32Array): Float32Array {
  const out = new Float32Array(Math.ceil(input.length / 2));
  const reach = 2 * SIDE.length - 1;
  for (let m = 0; m < out.length; m++) {
    const at = 2 * m;
    let sum = 0.5 * input[at]!;
    if (at >= reach && at + reach < input.length)
      for (let i = 0, d = 1; i < SIDE.length; i++, d += 2)
        sum += SIDE[i]! * (input[at - d]! + input[at + d]!);
    else
      for (let i = 0, d = 1; i < SIDE.length; i++, d += 2)
        sum += SIDE[i]! * ((input[at - d] ?? 0) + (input[at + d] ?? 0));
    out[m] = sum;
  }
  return out;
}
