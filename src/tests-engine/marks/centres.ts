import { alignCost } from './align.ts';
import type { Frame } from './cost.ts';
import { beyond, sharpLeast } from './lead.ts';
import type { Rule } from './rule.ts';

/** A lead that can be taken out, and the places of the take, by number, that come to it: more than one at an end alone. */
export interface Option {
  readonly lead: number;
  readonly from: number;
  readonly to: number;
  /** What the sharp reading costs at least in the cheapest of them. */
  readonly least: number;
}

/** Times what the take costs as it was played: from there on a bound need not be sharp. */
const ENOUGH = 1.5;

/**
 * What the sharp reading of a take costs in each place where the take as a whole may lie: looked up only where a bound
 * leaves it open.
 */
export class Centres {
  /** What it costs at the take's centre. */
  readonly cost: number;
  private readonly least: Float64Array;
  private readonly found: Float64Array;
  private readonly first: Option;
  /** Places before `inner` come to the low end, those from `outer` on to the high one; each between stands for itself. */
  private readonly inner: number;
  private readonly outer: number;
  /** Which ways have been told of: the low end, the places between, the high end. */
  private readonly told: Uint8Array;

  private readonly leads: Float64Array;
  private readonly range: readonly [number, number];
  private readonly frameAt: (lead: number) => Frame;
  private readonly rule: Rule;

  /**
   * @param leads where the take may lie, ascending @param frameAt the take in the sharp reading, that lead taken
   * out, good until the next call
   */
  constructor(
    leads: Float64Array,
    range: readonly [number, number],
    frameAt: (lead: number) => Frame,
    rule: Rule,
  ) {
    this.leads = leads;
    this.range = range;
    this.frameAt = frameAt;
    this.rule = rule;
    const [low, high] = range;
    const count = leads.length;
    const bound = sharpLeast(frameAt(0), rule);
    this.least = new Float64Array(count);
    this.found = new Float64Array(count).fill(NaN);
    let [to, end] = [0, 0];
    // What it costs where it was played: places much dearer are of no use, whether the centre or only near it.
    const played = alignCost(frameAt(0), rule);
    const enough = ENOUGH * played + rule.missed;
    for (let k = 0; k < count; k++) {
      this.least[k] = bound(leads[k]!, enough) + beyond(leads[k]!, range);
      if (leads[k] === 0) this.found[k] = played;
      if (leads[k]! <= low) to = k + 1;
      if (leads[k]! < high) end = k + 1;
    }
    this.inner = to;
    this.outer = Math.max(to, end);
    this.told = new Uint8Array(this.outer - to + 2);
    this.cost = this.cheapest(0, count, Infinity);
    let at = 0;
    while (!(this.found[at]! <= this.cost)) at++;
    this.first = this.option(at < to ? 0 : at >= this.outer ? this.told.length - 1 : at - to + 1);
  }

  /** Way number k: see `told`. */
  private option(k: number): Option {
    const { inner, outer, leads, range } = this;
    this.told[k] = 1;
    if (k > 0 && k < this.told.length - 1) {
      const at = inner + k - 1;
      return { lead: leads[at]!, from: at, to: at + 1, least: this.least[at]! };
    }
    const [from, to] = k === 0 ? [0, inner] : [outer, leads.length];
    return { lead: range[k === 0 ? 0 : 1], from, to, least: this.leastIn(from, to) };
  }

  private leastIn(from: number, to: number): number {
    let x = Infinity;
    for (let k = from; k < to; k++) if (this.least[k]! < x) x = this.least[k]!;
    return x;
  }

  /** Ways to take the lead out: the centre itself, then as they may be cheap; null after the last. */
  next(after: Option | null): Option | null {
    if (after === null) return this.first;
    const { told, inner } = this;
    let [best, at] = [Infinity, -1];
    for (let k = 0; k < told.length; k++) {
      if (told[k]) continue;
      const least =
        k === 0
          ? this.leastIn(0, inner)
          : k === told.length - 1
            ? this.leastIn(this.outer, this.leads.length)
            : this.least[inner + k - 1]!;
      if (at < 0 || least < best) [best, at] = [least, k];
    }
    return at < 0 ? null : this.option(at);
  }

  /** What the sharp reading costs there; Infinity where it is `most` or more. */
  costOf(option: Option, most: number): number {
    return option === this.first ? this.cost : this.cheapest(option.from, option.to, most);
  }

  private cheapest(from: number, to: number, most: number, known = false): number {
    const { least, found, leads, range, rule } = this;
    let best = most;
    for (;;) {
      let at = -1;
      for (let k = from; k < to; k++) {
        if (found[k]! < best) best = found[k]!;
        else if (!known && !(found[k]! >= 0) && least[k]! < best && (at < 0 || least[k]! < least[at]!))
          at = k;
      }
      if (at < 0) return best < most ? best : Infinity;
      if (least[at]! >= best) continue;
      const more = beyond(leads[at]!, range);
      const cost = alignCost(this.frameAt(leads[at]!), rule, best - more) + more;
      if (cost < best) found[at] = cost;
      // At least that much; not looked at again for less.
      else least[at] = Math.max(least[at]!, best);
    }
  }
}
