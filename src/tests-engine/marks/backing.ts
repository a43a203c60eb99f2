import { align, alignCost } from './align.ts';
import { keysOf } from './candidates.ts';
import { Centres, type Option } from './centres.ts';
import { leadsOf, rangeOf, sharp, sharpLimits } from './lead.ts';
import { median } from '../../music/numbers.ts';
import type { Rule } from './rule.ts';
import type { Limits, Lists, Reading } from './placed.ts';
import type { Transposition } from './types.ts';

/**
 * Against the backing a steady lead or lag inside what is unknown is taken out, and that where the take as a whole lies:
 *
 *   cost = least, over leads, of [cost of the kindest reading with the lead taken out + toll],
 *   toll = BLUNT x written notes x (what the sharp reading loses there - what it loses at the centre)
 *
 * (`lead.ts`). A centre outside what is unknown takes out the nearest lead inside. All are sums of ramps, so that a
 * millisecond on one note moves the cost by no more than its own price and, where the centre is in doubt, the toll's:
 * twice BLUNT x written notes x the note's slope.
 */

/**
 * The toll keeps the lead at the centre while k of n notes lie off to one side with k < n b / (1 + 2 b), b = BLUNT x n:
 * one of three, four of ten, five of twelve. The more notes there are, the better they say where a take lies; and the
 * less is a millisecond of one of them worth.
 */
const BLUNT = 0.4;

type Found = Omit<Reading, 'rate' | 'straight'>;
/** What differs by less is the same: rounding of sums. */
const SAME_SEC = 1e-9;
const SAME_POINTS = 1e-9;

export function bestOnBacking(
  lists: Lists,
  limits: Limits,
  rule: Rule,
  transposition: Transposition,
  latencySec: number,
): Reading {
  const { t, p, s } = lists;
  const leads = leadsOf({ t, s, tol: limits.tol }, latencySec);
  const range = rangeOf(latencySec);
  const price = BLUNT * t.length;
  const keys = keysOf(lists, rule, transposition);
  const common = { ...limits, t, p, slack: 0, bend: 0 };
  const strict = { rule: sharp(rule, price), frame: sharpLimits(common, price) };

  let best: Found | null = null;
  /** What the sharp reading costs there. */
  let sharply = 0;
  /** The kindest in one key, if it is under the best so far. */
  const tryKey = (shift: number): void => {
    const q = less(lists.q, shift);
    const moved = { ...strict.frame, s: new Float64Array(s.length), q };
    const movedBy = (lead: number): typeof moved => {
      for (let k = 0; k < s.length; k++) moved.s[k] = s[k]! - lead;
      return moved;
    };
    const take = new Centres(leads, range, movedBy, strict.rule);
    const toll = (x: number): number => price * Math.max(0, x - take.cost);
    for (let at: Option | null = take.next(null); at; at = take.next(at)) {
      const most = best?.cost ?? Infinity;
      const slight = toll(at.least);
      if (slight >= most) break;
      const frame = { ...common, s: less(s, at.lead), q };
      const found = align(frame, rule, most - slight);
      if (!(found.cost < most - slight)) continue;
      const whole = toll(take.costOf(at, take.cost + (most - found.cost) / price));
      if (!(found.cost + whole < most)) continue;
      best = { ...found, cost: found.cost + whole, start: at.lead, shift, toll: whole, frame };
      sharply = take.cost + whole / price;
    }
  };
  /** What any lead costs at least in this key. */
  const keyLeast = (shift: number): number => {
    const give = (range[1] - range[0]) / 2;
    const tol = limits.tol.map((x) => x + give);
    const frame = { ...common, s: less(s, range[0] + give), q: less(lists.q, shift), tol };
    return alignCost(frame, rule, best!.cost);
  };
  /**
   * With an even number of notes each lead between the middle two is as good: the one halfway is taken, where neither
   * cost nor toll is more than the least. (Were the toll allowed to rise, a lower cost could come out than the least.)
   */
  const settled = (found: Found): Found => {
    const off = median(found.matches.map(({ i, j }) => found.frame.s[j]! - t[i]!));
    const start = Math.max(range[0], Math.min(range[1], found.start + off));
    if (Math.abs(start - found.start) < SAME_SEC) return found;
    const frame = { ...found.frame, s: less(s, start) };
    const same = align(frame, rule, found.cost - found.toll + SAME_POINTS);
    if (!(same.cost <= found.cost - found.toll + SAME_POINTS)) return found;
    const at = alignCost({ ...strict.frame, s: frame.s, q: frame.q }, strict.rule, sharply + SAME_POINTS);
    if (!(at <= sharply + SAME_POINTS)) return found;
    return { ...found, matches: same.matches, cost: same.cost + found.toll, start, frame };
  };
  const likely = keys.length >> 1;
  tryKey(keys[likely] ?? 0);
  if (keys.length > 1) {
    const rest = keys.filter((_, k) => k !== likely).map((shift) => ({ shift, least: keyLeast(shift) }));
    for (const { shift, least } of rest.sort((a, b) => a.least - b.least))
      if (least < best!.cost) tryKey(shift);
  }
  return { ...settled(best!), rate: 1, straight: null };
}

function less(list: Float64Array, by: number): Float64Array {
  if (by === 0) return list;
  const found = new Float64Array(list.length);
  for (let k = 0; k < found.length; k++) found[k] = list[k]! - by;
  return found;
}
