import { makeRandom } from '../../audio-fixtures/random.ts';
import type { TreeData } from '../dsp/decision/trees.ts';

export interface Example {
  readonly features: ArrayLike<number>;
  /** 1 = yes, 0 = no; a share in between where one is to be guessed. */
  readonly label: number;
  readonly weight: number;
}

export interface BoostOptions {
  readonly trees: number;
  readonly depth: number;
  /** Share of each tree's answer that is taken. */
  readonly rate: number;
  /** Ridge penalty on leaves and least curvature in one: a leaf must speak for several examples. */
  readonly ridge: number;
  readonly leastCurvature: number;
  /** Share of the examples each tree sees. */
  readonly share: number;
  /**
   * Of examples whose answer is within this of right only a fifth of that share is seen, at five times the weight
   * (in the manner of Ke et al., NIPS 2017): most candidates are plainly none. 0 or absent sees all alike.
   */
  readonly plain?: number;
}

const BINS = 48;
/** A plain example that is seen stands for so many. */
const PLAIN_FOR = 5;

/** Thresholds of a feature at equal shares of the examples. */
function quantiles(values: Float64Array): number[] {
  const sorted = values.sort();
  const edges: number[] = [];
  for (let b = 1; b < BINS; b++) {
    const v = Number(sorted[Math.floor((b * sorted.length) / BINS)]!.toPrecision(4));
    if (v > (edges.at(-1) ?? -Infinity)) edges.push(v);
  }
  return edges;
}

/** Sums of slopes and curvatures by feature and bin. */
interface Histogram {
  readonly g: Float64Array;
  readonly h: Float64Array;
}

/**
 * Boosted trees by Newton steps on histograms of the features (Chen & Guestrin, KDD 2016, equations 6 and 7). Of
 * two children only the smaller is counted out: the other's histogram is the parent's less its sibling's.
 */
export function boost(
  names: readonly string[],
  examples: readonly Example[],
  options: BoostOptions,
): TreeData {
  const random = makeRandom(1);
  const n = examples.length;
  const width = names.length;
  const edges = names.map((_, j) => quantiles(Float64Array.from(examples, (e) => e.features[j]!)));
  const bins = new Uint8Array(n * width);
  examples.forEach((e, i) => {
    edges.forEach((of, j) => (bins[i * width + j] = binOf(of, e.features[j]!)));
  });
  const total = examples.reduce((s, e) => s + e.weight, 0);
  const rate = examples.reduce((s, e) => s + e.weight * e.label, 0) / total;
  const base = Math.log(rate / (1 - rate));
  const odds = new Float64Array(n).fill(base);
  const slope = new Float64Array(n);
  const curve = new Float64Array(n);
  const nodes: number[] = [];

  function count(members: Int32Array): Histogram {
    const g = new Float64Array(width * BINS);
    const h = new Float64Array(width * BINS);
    for (let m = 0; m < members.length; m++) {
      const i = members[m]!;
      const s = slope[i]!;
      const c = curve[i]!;
      const row = i * width;
      for (let j = 0, first = 0; j < width; j++, first += BINS) {
        const at = first + bins[row + j]!;
        g[at]! += s;
        h[at]! += c;
      }
    }
    return { g, h };
  }
  const less = (all: Histogram, part: Histogram): Histogram => ({
    g: all.g.map((v, i) => v - part.g[i]!),
    h: all.h.map((v, i) => v - part.h[i]!),
  });

  function grow(members: Int32Array, depth: number, known: Histogram | null): void {
    const at = nodes.length;
    let g = 0;
    let h = 0;
    for (const i of members) {
      g += slope[i]!;
      h += curve[i]!;
    }
    const value = Number(((options.rate * g) / (h + options.ridge)).toPrecision(4));
    nodes.push(-1, value, 0);
    const histogram = depth > 0 ? (known ?? count(members)) : null;
    const split = histogram && bestSplit(histogram, g, h);
    if (!split) {
      for (const i of members) odds[i]! += value;
      return;
    }
    const goesLeft = (i: number): boolean => bins[i * width + split.feature]! <= split.bin;
    const left = members.filter(goesLeft);
    const right = members.filter((i) => !goesLeft(i));
    let ofLeft: Histogram | null = null;
    let ofRight: Histogram | null = null;
    if (depth > 1) {
      if (left.length < right.length) ofRight = less(histogram, (ofLeft = count(left)));
      else ofLeft = less(histogram, (ofRight = count(right)));
    }
    grow(left, depth - 1, ofLeft);
    nodes[at] = split.feature;
    nodes[at + 1] = edges[split.feature]![split.bin]!;
    nodes[at + 2] = nodes.length / 3;
    grow(right, depth - 1, ofRight);
  }

  function bestSplit(of: Histogram, g: number, h: number): { feature: number; bin: number } | null {
    let best: { feature: number; bin: number } | null = null;
    let bestGain = 1e-6;
    for (const [j, { length }] of edges.entries()) {
      let gl = 0;
      let hl = 0;
      for (let b = 0; b < length; b++) {
        gl += of.g[j * BINS + b]!;
        hl += of.h[j * BINS + b]!;
        if (hl < options.leastCurvature || h - hl < options.leastCurvature) continue;
        const gain =
          gl ** 2 / (hl + options.ridge) +
          (g - gl) ** 2 / (h - hl + options.ridge) -
          g ** 2 / (h + options.ridge);
        if (gain > bestGain) {
          bestGain = gain;
          best = { feature: j, bin: b };
        }
      }
    }
    return best;
  }

  for (let t = 0; t < options.trees; t++) {
    const seen: number[] = [];
    const unseen: number[] = [];
    for (const [i, example] of examples.entries()) {
      const p = 1 / (1 + Math.exp(-odds[i]!));
      const isPlain = Math.abs(example.label - p) < (options.plain ?? 0);
      const weight = example.weight * (isPlain ? PLAIN_FOR : 1);
      slope[i] = weight * (example.label - p);
      curve[i] = weight * Math.max(1e-6, p * (1 - p));
      (random.chance(isPlain ? options.share / PLAIN_FOR : options.share) ? seen : unseen).push(i);
    }
    nodes.push(-2, 0, 0);
    const root = nodes.length;
    grow(Int32Array.from(seen), options.depth, null);
    for (const i of unseen) {
      const { features } = examples[i]!;
      let at = root;
      for (let feature = nodes[at]!; feature >= 0; feature = nodes[at]!)
        at = features[feature]! < nodes[at + 1]! ? at + 3 : 3 * nodes[at + 2]!;
      odds[i]! += nodes[at + 1]!;
    }
  }
  return { names, base: Number(base.toPrecision(4)), nodes: nodes.join(' ') };
}

/** How many of the sorted edges a value has reached. */
function binOf(edges: readonly number[], value: number): number {
  let low = 0;
  let high = edges.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (value >= edges[middle]!) low = middle + 1;
    else high = middle;
  }
  return low;
}
