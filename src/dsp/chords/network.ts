/** One layer of a small network: `weights[o * inputs + i]`. */
export interface Layer {
  readonly inputs: number;
  readonly outputs: number;
  readonly weights: Float64Array;
  readonly biases: Float64Array;
}

export interface Network {
  readonly mean: Float64Array;
  readonly deviation: Float64Array;
  readonly layers: readonly Layer[];
}

/** A network as it is kept: numbers rounded, as text. */
export interface NetworkData {
  /** Inputs, then the outputs of each layer; the last is 1. */
  readonly sizes: readonly number[];
  /** Means, deviations, then for each layer weights and biases; whole numbers, to be divided by `scale`. */
  readonly numbers: string;
  readonly scale: number;
}

/** Slope of the leaky rectifier under 0. */
export const LEAK = 0.05;

/** @throws RangeError where the data do not hold as many numbers as the sizes ask for */
export function readNetwork({ sizes, numbers, scale }: NetworkData): Network {
  const all = Float64Array.from(numbers.split(' '), (word) => Number(word) / scale);
  let at = 0;
  const take = (count: number): Float64Array => {
    if (at + count > all.length) throw new RangeError(`the network holds ${all.length} numbers: too few`);
    return all.slice(at, (at += count));
  };
  const mean = take(sizes[0]!);
  const deviation = take(sizes[0]!);
  const layers = sizes.slice(1).map((outputs, l) => {
    const inputs = sizes[l]!;
    return { inputs, outputs, weights: take(inputs * outputs), biases: take(outputs) };
  });
  if (at !== all.length) throw new RangeError(`the network holds ${all.length} numbers, not ${at}`);
  return { mean, deviation, layers };
}

/** Log-odds for the inputs that start at `offset`. */
export function score(network: Network, inputs: Float64Array, offset = 0): number {
  let now = new Float64Array(network.mean.length);
  for (let i = 0; i < now.length; i++)
    now[i] = (inputs[offset + i]! - network.mean[i]!) / network.deviation[i]!;
  network.layers.forEach(({ inputs: count, outputs, weights, biases }, l) => {
    const next = new Float64Array(outputs);
    for (let o = 0; o < outputs; o++) {
      let sum = biases[o]!;
      for (let i = 0; i < count; i++) sum += weights[o * count + i]! * now[i]!;
      next[o] = l === network.layers.length - 1 || sum > 0 ? sum : LEAK * sum;
    }
    now = next;
  });
  return now[0]!;
}
