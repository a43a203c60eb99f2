import type { Chart } from '../../music/chart.ts';
import { barTicks } from '../../music/metre.ts';
import { syncopations } from '../material/difficulty/syncopation.ts';
import type { PlacedNote } from './types.ts';

export interface RhythmFacts {
  /** Different rhythms of whole bars that were played, of bars with notes. */
  readonly figures: number;
  readonly barsWithNotes: number;
  /** Shannon entropy of the gaps from note to note on the written grid, bits: 0 where all are equal. */
  readonly entropyBits: number;
  /** Syncopations a bar with notes, after Longuet-Higgins and Lee (1984), those of strength 1 and more. */
  readonly syncopationsPerBar: number;
  /** The rhythm of a bar played most often, and how often. */
  readonly commonest: { readonly ticks: readonly number[]; readonly times: number } | null;
}

export function rhythmFacts(chart: Chart, notes: readonly PlacedNote[]): RhythmFacts {
  const bar = barTicks(chart.metre);
  const onsets = [...new Set(notes.map(({ ticks }) => ticks))].filter((t) => t >= 0 && t < bar * chart.bars);
  const byBar = new Map<number, number[]>();
  for (const at of onsets) {
    const k = Math.floor(at / bar);
    byBar.set(k, [...(byBar.get(k) ?? []), at - k * bar]);
  }
  const figures = new Map<string, { ticks: number[]; times: number }>();
  for (const inside of byBar.values()) {
    const id = inside.join();
    figures.set(id, { ticks: inside, times: (figures.get(id)?.times ?? 0) + 1 });
  }
  const gaps = onsets.slice(1).map((at, i) => at - onsets[i]!);
  const strong = syncopations(onsets, chart.metre, chart.bars).filter((strength) => strength >= 1);
  const commonest = [...figures.values()].sort((a, b) => b.times - a.times)[0];
  return {
    figures: figures.size,
    barsWithNotes: byBar.size,
    entropyBits: entropy(gaps),
    syncopationsPerBar: byBar.size === 0 ? 0 : strong.length / byBar.size,
    commonest: commonest ?? null,
  };
}

/** Shannon's entropy of the values' frequencies, bits (C. Shannon, 1948, eq. for H). */
export function entropy(values: readonly number[]): number {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  let bits = 0;
  for (const count of counts.values()) bits -= (count / values.length) * Math.log2(count / values.length);
  return bits;
}
