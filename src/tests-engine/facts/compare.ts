import type { Fact } from '../marks/index.ts';

/** What two takes can be compared by, and how much of a difference is worth a word. */
const MEASURES: readonly {
  readonly code: string;
  readonly of: (fact: Fact) => number;
  readonly worth: number;
}[] = [
  { code: 'strong-in-chord', of: shareOf, worth: 0.15 },
  { code: 'in-scale', of: shareOf, worth: 0.1 },
  { code: 'bars-played', of: shareOf, worth: 0.15 },
  { code: 'timing', of: ({ values }) => Number(values['spread']), worth: 10 },
  { code: 'phrases', of: ({ values }) => Number(values['count']), worth: 2 },
  { code: 'figures', of: ({ values }) => Number(values['bits']), worth: 0.5 },
];

function shareOf({ values }: Fact): number {
  return Number(values['count']) / Number(values['of']);
}

export interface Compared {
  readonly code: string;
  readonly now: number;
  /** Least and most of the earlier takes. */
  readonly before: readonly [number, number];
}

/** Fewer earlier takes are no habit. */
const FEWEST = 3;

/**
 * What lies outside everything that this player did before, by at least what is worth a word; the strangest first.
 * @param earlier fact lists of earlier takes; nothing is said under three
 */
export function compareWithEarlier(now: readonly Fact[], earlier: readonly (readonly Fact[])[]): Compared[] {
  return MEASURES.flatMap(({ code, of, worth }) => {
    const mine = now.find((fact) => fact.code === code);
    const theirs = earlier.flatMap((list) => list.find((fact) => fact.code === code) ?? []).map(of);
    if (!mine || theirs.length < FEWEST) return [];
    const value = of(mine);
    const before = [Math.min(...theirs), Math.max(...theirs)] as const;
    const beyond = Math.max(value - before[1], before[0] - value);
    return beyond >= worth ? [{ code, now: value, before, beyond: beyond / worth }] : [];
  })
    .sort((a, b) => b.beyond - a.beyond)
    .map(({ code, now: value, before }) => ({ code, now: value, before }));
}
