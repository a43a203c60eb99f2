/** Plain statistics of the agreement tables. */

export const mean = (x: readonly number[]): number => x.reduce((a, b) => a + b, 0) / x.length;

/** Ranks from 0, ties share their mean rank. */
function ranks(x: readonly number[]): number[] {
  const order = x.map((_, k) => k).sort((a, b) => x[a]! - x[b]!);
  const found = new Array<number>(x.length);
  for (let from = 0; from < order.length;) {
    let to = from;
    while (to < order.length && x[order[to]!] === x[order[from]!]) to++;
    for (let k = from; k < to; k++) found[order[k]!] = (from + to - 1) / 2;
    from = to;
  }
  return found;
}

/** Spearman's rank correlation, ties by mean rank; NaN where one list is constant. */
export function spearman(x: readonly number[], y: readonly number[]): number {
  const a = ranks(x);
  const b = ranks(y);
  const ma = mean(a);
  const mb = mean(b);
  let ab = 0;
  let aa = 0;
  let bb = 0;
  for (let k = 0; k < a.length; k++) {
    ab += (a[k]! - ma) * (b[k]! - mb);
    aa += (a[k]! - ma) ** 2;
    bb += (b[k]! - mb) ** 2;
  }
  return ab / Math.sqrt(aa * bb);
}

export const mae = (x: readonly number[], y: readonly number[]): number =>
  mean(x.map((v, k) => Math.abs(v - y[k]!)));

/** Rising step function by pooling adjacent violators, read with straight lines between its pools. */
export function isotonic(x: readonly number[], y: readonly number[]): (at: number) => number {
  const order = x.map((_, k) => k).sort((a, b) => x[a]! - x[b]!);
  const pools: { x: number; y: number; n: number }[] = [];
  for (const k of order) {
    pools.push({ x: x[k]!, y: y[k]!, n: 1 });
    while (pools.length > 1 && pools[pools.length - 2]!.y >= pools[pools.length - 1]!.y) {
      const b = pools.pop()!;
      const a = pools.pop()!;
      const n = a.n + b.n;
      pools.push({ x: (a.x * a.n + b.x * b.n) / n, y: (a.y * a.n + b.y * b.n) / n, n });
    }
  }
  return (at) => {
    const k = pools.findIndex((p) => p.x >= at);
    if (k === 0) return pools[0]!.y;
    if (k < 0) return pools[pools.length - 1]!.y;
    const [a, b] = [pools[k - 1]!, pools[k]!];
    return b.x === a.x ? b.y : a.y + ((b.y - a.y) * (at - a.x)) / (b.x - a.x);
  };
}

/** Multiplicative congruential generator (Park and Miller 1988): the same resamples on every machine. */
export function random(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 16807) % 2147483647;
    return state / 2147483647;
  };
}

/** 2.5 and 97.5 % points of `statistic` over resamples of whole groups. */
export function bootstrap(
  groups: readonly (readonly number[])[],
  rounds: number,
  statistic: (items: readonly number[]) => number,
): readonly [number, number] {
  const next = random(20261124);
  const found: number[] = [];
  for (let r = 0; r < rounds; r++) {
    const items = groups.flatMap(() => groups[Math.floor(next() * groups.length)]!);
    const value = statistic(items);
    if (Number.isFinite(value)) found.push(value);
  }
  found.sort((a, b) => a - b);
  return [found[Math.floor(found.length * 0.025)]!, found[Math.floor(found.length * 0.975)]!];
}
