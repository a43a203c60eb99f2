/**
 * A weighted distribution whose summaries move smoothly with every value: each value is shared between two
 * neighbouring bins, and there are no peaks to jump between.
 */
export class Distribution {
  private readonly bins: Float64Array;
  private readonly middle: number;
  private readonly step: number;
  private total = 0;

  /** Values `-range … range`, in bins of `step`; what lies outside is left out. */
  constructor(range: number, step: number) {
    this.middle = Math.ceil(range / step);
    this.bins = new Float64Array(2 * this.middle + 1);
    this.step = step;
  }

  add(value: number, weight: number): void {
    const at = value / this.step + this.middle;
    const low = Math.floor(at);
    if (!(low >= 0 && low + 1 < this.bins.length)) return;
    this.bins[low] += weight * (low + 1 - at);
    this.bins[low + 1] += weight * (at - low);
    this.total += weight;
  }

  /**
   * Middle of what lies within `reach` of `x`, nearer weighing more.
   *
   * @param self weight of `x` itself, so that one with nothing around it stays where it is
   */
  around(x: number, reach: number, self: number): number {
    const low = Math.max(0, Math.ceil((x - reach) / this.step + this.middle));
    const high = Math.min(this.bins.length - 1, Math.floor((x + reach) / this.step + this.middle));
    let sum = self;
    let mean = 0;
    for (let k = low; k <= high; k++) {
      const d = (k - this.middle) * this.step - x;
      const w = this.bins[k] * (1 - Math.abs(d) / reach);
      sum += w;
      mean += w * d;
    }
    return sum > 0 ? x + mean / sum : x;
  }

  /**
   * How far the values pull away from `x`: most at `scale` (weights 1 / (1 + (d / scale)²)), and so gently let go
   * beyond that a common shift of all values never moves it far the other way.
   *
   * @param self weight of `x` itself
   */
  pull(x: number, scale: number, self: number): number {
    let sum = self;
    let pull = 0;
    for (let k = 0; k < this.bins.length; k++) {
      if (this.bins[k] === 0) continue;
      const d = (k - this.middle) * this.step - x;
      const w = this.bins[k] / (1 + (d / scale) ** 2);
      sum += w;
      pull += w * d;
    }
    return pull / sum;
  }

  /** Means of `count` slices of equal weight, ascending; none where nothing was added. */
  slices(count: number): number[] {
    if (!(this.total > 0)) return [];
    const share = this.total / count;
    const found: number[] = [];
    let room = share;
    let sum = 0;
    for (let k = 0; k < this.bins.length; k++) {
      const value = (k - this.middle) * this.step;
      let w = this.bins[k];
      while (w > room && found.length < count - 1) {
        found.push((sum + room * value) / share);
        w -= room;
        sum = 0;
        room = share;
      }
      sum += w * value;
      room -= w;
    }
    if (found.length < count && share - room > 0) found.push(sum / (share - room));
    return found;
  }

  /** What a slice itself weighs, of all: about two notes, so that no single one drags it far. */
  static readonly SELF = 0.03;

  /** Slices, each drawn twice to the middle of what lies around it. */
  centred(count: number, reach: number): number[] {
    const self = Distribution.SELF * this.total;
    return this.slices(count).map((x) => this.around(this.around(x, reach, self), reach, self));
  }
}
