import { makeRandom } from '../../../audio-fixtures/random.ts';
import { INPUTS } from '../../dsp/chords/inputs.ts';
import { LEAK } from '../../dsp/chords/network.ts';
import type { Layer, Network } from '../../dsp/chords/network.ts';
import type { Lesson } from './lessons.ts';

/** Inputs, two hidden layers, log-odds. */
export const SIZES = [INPUTS, 48, 24, 1] as const;
export interface TrainOptions {
  readonly epochs: number;
  readonly seed: number;
}
const BATCH = 128;
const RATE = 2e-3;
const DECAY = 1e-5;
/** Notes that nothing speaks for are most of the rows and teach least: one in so many is kept, and counts as many. */
const THINNED = 4;
/** A gain input at its lower edge: nothing was fitted. */
const NOTHING = -4.4;

interface Rows {
  readonly inputs: Float64Array;
  readonly labels: Uint8Array;
  readonly weights: Float64Array;
}

function rowsOf(lessons: readonly Lesson[], seed: number): Rows {
  const random = makeRandom(seed);
  const inputs: number[] = [];
  const labels: number[] = [];
  const weights: number[] = [];
  for (const lesson of lessons)
    for (let midi = lesson.from; midi <= lesson.to; midi++) {
      const at = (midi - lesson.from) * INPUTS;
      const sounds = lesson.sounding.includes(midi);
      const dull = !sounds && !lesson.asked.includes(midi) && lesson.inputs[at + 32]! <= NOTHING;
      if (dull && !random.chance(1 / THINNED)) continue;
      for (let i = 0; i < INPUTS; i++) inputs.push(lesson.inputs[at + i]!);
      labels.push(sounds ? 1 : 0);
      weights.push(dull ? THINNED : 1);
    }
  return {
    inputs: Float64Array.from(inputs),
    labels: Uint8Array.from(labels),
    weights: Float64Array.from(weights),
  };
}

function standards({ inputs, labels }: Rows): { mean: Float64Array; deviation: Float64Array } {
  const mean = new Float64Array(INPUTS);
  const deviation = new Float64Array(INPUTS);
  const count = labels.length;
  for (let r = 0; r < count; r++)
    for (let i = 0; i < INPUTS; i++) mean[i] = mean[i]! + inputs[r * INPUTS + i]! / count;
  for (let r = 0; r < count; r++)
    for (let i = 0; i < INPUTS; i++)
      deviation[i] = deviation[i]! + (inputs[r * INPUTS + i]! - mean[i]!) ** 2 / count;
  for (let i = 0; i < INPUTS; i++) deviation[i] = Math.max(1e-3, Math.sqrt(deviation[i]!));
  return { mean, deviation };
}

/** Fits the network by Adam (Kingma and Ba 2015) on the logistic loss, the rate falling as half a cosine. */
export function train(lessons: readonly Lesson[], { epochs, seed }: TrainOptions): Network {
  const rows = rowsOf(lessons, seed);
  const { mean, deviation } = standards(rows);
  const random = makeRandom(seed + 1);
  const layers: Layer[] = SIZES.slice(1).map((outputs, l) => {
    const inputs = SIZES[l]!;
    return {
      inputs,
      outputs,
      weights: Float64Array.from({ length: inputs * outputs }, () => random.normal() * Math.sqrt(2 / inputs)),
      biases: new Float64Array(outputs),
    };
  });
  const flat = layers.flatMap(({ weights, biases }) => [weights, biases]);
  const grads = flat.map((p) => new Float64Array(p.length));
  const first = flat.map((p) => new Float64Array(p.length));
  const second = flat.map((p) => new Float64Array(p.length));
  const acts = SIZES.map((size) => new Float64Array(size));
  const deltas = SIZES.map((size) => new Float64Array(size));
  const order = Uint32Array.from(rows.labels.keys());
  const batches = Math.ceil(order.length / BATCH);
  let step = 0;
  for (let epoch = 0; epoch < epochs; epoch++) {
    for (let i = order.length - 1; i > 0; i--) {
      const j = random.whole(0, i);
      [order[i], order[j]] = [order[j]!, order[i]!];
    }
    for (let b = 0; b < batches; b++) {
      const to = Math.min(order.length, (b + 1) * BATCH);
      for (let r = b * BATCH; r < to; r++)
        learn(rows, order[r]!, { mean, deviation, layers, acts, deltas, grads });
      step++;
      const rate = RATE * 0.5 * (1 + Math.cos((Math.PI * step) / (epochs * batches)));
      const c1 = 1 - 0.9 ** step;
      const c2 = 1 - 0.999 ** step;
      for (let p = 0; p < flat.length; p++) {
        const [value, grad, m, v] = [flat[p]!, grads[p]!, first[p]!, second[p]!];
        for (let i = 0; i < value.length; i++) {
          const g = grad[i]! / (to - b * BATCH) + DECAY * value[i]!;
          m[i] = 0.9 * m[i]! + 0.1 * g;
          v[i] = 0.999 * v[i]! + 0.001 * g * g;
          value[i] = value[i]! - (rate * (m[i]! / c1)) / (Math.sqrt(v[i]! / c2) + 1e-8);
          grad[i] = 0;
        }
      }
    }
  }
  return { mean, deviation, layers };
}

interface Bench {
  readonly mean: Float64Array;
  readonly deviation: Float64Array;
  readonly layers: readonly Layer[];
  readonly acts: readonly Float64Array[];
  readonly deltas: readonly Float64Array[];
  readonly grads: readonly Float64Array[];
}

/** One row forwards and backwards; adds to the gradients. */
function learn(rows: Rows, row: number, { mean, deviation, layers, acts, deltas, grads }: Bench): void {
  const a0 = acts[0]!;
  for (let i = 0; i < INPUTS; i++) a0[i] = (rows.inputs[row * INPUTS + i]! - mean[i]!) / deviation[i]!;
  const last = layers.length;
  for (let l = 0; l < last; l++) {
    const { inputs, outputs, weights, biases } = layers[l]!;
    const from = acts[l]!;
    const to = acts[l + 1]!;
    for (let o = 0; o < outputs; o++) {
      let sum = biases[o]!;
      const w = o * inputs;
      for (let i = 0; i < inputs; i++) sum += weights[w + i]! * from[i]!;
      to[o] = l === last - 1 || sum > 0 ? sum : LEAK * sum;
    }
  }
  const z = acts[last]![0]!;
  deltas[last]![0] = rows.weights[row]! * (1 / (1 + Math.exp(-z)) - rows.labels[row]!);
  for (let l = last - 1; l >= 0; l--) {
    const { inputs, outputs, weights } = layers[l]!;
    const from = acts[l]!;
    const delta = deltas[l + 1]!;
    const back = deltas[l]!;
    const gw = grads[2 * l]!;
    const gb = grads[2 * l + 1]!;
    back.fill(0);
    for (let o = 0; o < outputs; o++) {
      const d = delta[o]!;
      if (d === 0) continue;
      const w = o * inputs;
      gb[o] = gb[o]! + d;
      for (let i = 0; i < inputs; i++) {
        gw[w + i] = gw[w + i]! + d * from[i]!;
        back[i] = back[i]! + d * weights[w + i]!;
      }
    }
    if (l > 0) for (let i = 0; i < inputs; i++) if (from[i]! < 0) back[i] = back[i]! * LEAK;
  }
}
