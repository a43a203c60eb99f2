/** What of a written bar says in which order bars are played. */
export interface BarRoad {
  readonly forward: boolean;
  /** Times the stretch that ends here is played in all; 0 where no repeat ends. */
  readonly backward: number;
  /** Numbers of the ending (volta) that this bar belongs to; null outside any. */
  readonly ending: readonly number[] | null;
  readonly segno: boolean;
  readonly coda: boolean;
  readonly toCoda: boolean;
  readonly fine: boolean;
  readonly daCapo: boolean;
  readonly dalSegno: boolean;
}

/** A piece of so many bars is longer than any that is practised at one go. */
export const MOST_PIECE_BARS = 1000;

/**
 * The order in which written bars are played: repeats with their endings, then da capo or dal segno once, without
 * repeats (common practice, no source), to Fine or by the coda.
 *
 * @returns indices of written bars; null where more than {@link MOST_PIECE_BARS} would be played
 */
export function unfold(bars: readonly BarRoad[]): number[] | null {
  const order: number[] = [];
  let from = 0;
  let pass = 1;
  /** After a da capo or dal segno. */
  let again = false;
  for (let k = 0; k < bars.length;) {
    if (order.length > MOST_PIECE_BARS) return null;
    const bar = bars[k]!;
    if (bar.forward && k !== from) {
      from = k;
      pass = 1;
    }
    if (again && bar.ending !== null) {
      // The last time it is the last ending.
      const last = Math.max(...endingsFrom(bars, k));
      if (!bar.ending.includes(last)) {
        k++;
        continue;
      }
    } else if (bar.ending !== null && !bar.ending.includes(pass)) {
      k++;
      continue;
    }
    order.push(k);
    if (bar.fine && again) break;
    if (bar.toCoda && again) {
      const coda = bars.findIndex((b, at) => at > k && b.coda);
      if (coda > k) {
        k = coda;
        again = false;
        continue;
      }
    }
    if (bar.backward > 0 && !again && pass < timesOf(bars, k, from)) {
      pass++;
      k = from;
      continue;
    }
    if (bar.backward > 0) {
      from = k + 1;
      if ((bars[k + 1]?.ending ?? null) === null) pass = 1;
    }
    if ((bar.daCapo || bar.dalSegno) && !again) {
      const segno = bar.dalSegno ? bars.findIndex((b) => b.segno) : 0;
      again = true;
      pass = 1;
      from = Math.max(0, segno);
      k = from;
      continue;
    }
    // An ending without a repeat sign closes the group.
    if (bar.ending !== null && (bars[k + 1]?.ending ?? null) === null && bar.backward === 0) {
      from = k + 1;
      pass = 1;
    }
    k++;
  }
  return order.length > MOST_PIECE_BARS ? null : order;
}

/** Numbers of the endings that follow one another from bar `k` on. */
function endingsFrom(bars: readonly BarRoad[], k: number): number[] {
  const numbers: number[] = [];
  for (let at = k; at < bars.length && bars[at]!.ending !== null; at++) numbers.push(...bars[at]!.ending!);
  return numbers;
}

/** How often the stretch that ends at `k` is played: as is said, or as its endings need. */
function timesOf(bars: readonly BarRoad[], k: number, from: number): number {
  let most = bars[k]!.backward;
  for (let at = from; at <= k; at++) most = Math.max(most, ...(bars[at]!.ending ?? [0]));
  // The ending after the sign is played once more, without going back.
  const next = bars[k + 1]?.ending;
  return next ? Math.max(most, Math.min(...next)) : most;
}
