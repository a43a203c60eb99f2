import { kindest, prepare } from '../../../src/tests-engine/marks/prepare.ts';
import { MELODY, type Rule } from '../../../src/tests-engine/marks/rule.ts';
import type { Take } from './agreement.ts';
import { plainPitches } from './plain.ts';
import { bootstrap, mean, spearman } from './stats.ts';

/**
 * How much of the agreement with examiners was learned from the very takes it is measured on. The prices are chosen
 * anew, one step at a time from prices that are all alike, on nine parts of the melodies, and judged on the tenth.
 * The takes do not say who sang; a question's melodies stay together, so that whoever sang both is on one side only.
 */

type Price = 'pitch' | 'time' | 'extra' | 'pitchShift';
/** What a price may be, in missed notes; a share of the pitch points for `pitchShift`. Neighbours are one step apart. */
const LADDER: Readonly<Record<Price, readonly number[]>> = {
  pitch: [0.375, 0.5, 0.75, 1, 1.5],
  time: [0, 0.2, 0.375, 0.75, 1, 1.5],
  extra: [0.25, 0.375, 0.5, 0.75, 1],
  pitchShift: [0.2, 0.4, 0.6, 0.8, 1],
};
const PRICES = Object.keys(LADDER) as Price[];
type Prices = Readonly<Record<Price, number>>;
/** Every mistake weighs as much as a note left out, and nothing is judged against the note before it. */
const ALIKE: Prices = { pitch: 1, time: 1, extra: 1, pitchShift: 1 };
const AS_IT_IS: Prices = MELODY;
/** A step is taken where it gains more than this, so that noise is not followed. */
const WORTH = 0.001;
const ROUNDS = 2000;
const f = (x: number): string => x.toFixed(3);

/** Marks of all takes for prices, each found once. */
function marker(takes: readonly Take[]): (prices: Prices) => readonly number[] {
  const prepared = takes.map((t) => prepare(t.request));
  const known = new Map<string, readonly number[]>();
  return (prices) => {
    const key = PRICES.map((p) => prices[p]).join(' ');
    let marks = known.get(key);
    if (!marks) {
      // No price may be nothing: a note would then be free to stand anywhere.
      const own = Object.fromEntries(PRICES.map((p) => [p, Math.max(1e-6, prices[p])]));
      marks = prepared.map((p) => {
        const rule: Rule = { ...p.rule, ...own, missed: 1 };
        return -kindest({ ...p, rule }, () => 1).cost / p.target.length;
      });
      known.set(key, marks);
    }
    return marks;
  };
}

const pick = (x: readonly number[], at: readonly number[]): number[] => at.map((k) => x[k]!);

/** Share of the marks known from training that lie lower: prices differ from part to part, and so do their marks. */
function place(known: readonly number[], x: number): number {
  let [lower, same] = [0, 0];
  for (const y of known) {
    if (y < x) lower++;
    else if (y === x) same++;
  }
  return (lower + same / 2) / known.length;
}

export function nested(takes: readonly Take[]): void {
  const panel = takes.map((t) => mean(t.grades));
  const marks = marker(takes);
  const all = takes.map((_, k) => k);
  const part = takes.map((t) => t.pattern.split('_')[0]);
  const parts = [...new Set(part)];
  const groups = parts.map((name) => all.filter((k) => part[k] === name));
  const rho = (x: readonly number[], at: readonly number[]): number => spearman(pick(x, at), pick(panel, at));

  /** Prices one step from these. */
  const near = (prices: Prices): Prices[] =>
    PRICES.flatMap((p) => {
      const k = LADDER[p].indexOf(prices[p]);
      return [k - 1, k + 1]
        .filter((x) => LADDER[p][x] !== undefined)
        .map((x) => ({ ...prices, [p]: LADDER[p][x] }));
    });
  const chosen = (from: Prices, at: readonly number[]): Prices => {
    let [now, by] = [from, rho(marks(from), at)];
    for (;;) {
      const [next, reached] = near(now)
        .map((prices) => [prices, rho(marks(prices), at)] as const)
        .reduce((a, b) => (b[1] > a[1] ? b : a));
      if (reached <= by + WORTH) return now;
      [now, by] = [next, reached];
    }
  };
  const say = (prices: Prices): string => PRICES.map((p) => prices[p]).join(' ');
  const interval = (x: readonly number[]): string =>
    bootstrap(groups, ROUNDS, (at) => rho(x, at))
      .map((v) => v.toFixed(2))
      .join(' … ');
  const gain = (x: readonly number[], y: readonly number[]): string =>
    bootstrap(groups, ROUNDS, (at) => rho(x, at) - rho(y, at))
      .map(f)
      .join(' … ');

  console.log(`\n## Nested: ${takes.length} melodies sung, ${parts.length} parts by question\n`);
  console.log(`| prices: ${PRICES.join(', ')} | seen | nested | 95 % by question | seen less nested |`);
  console.log('|---|---|---|---|---|');
  const plain = takes.map((t) => plainPitches(t.request));
  console.log(`| plain alignment of pitches | – | ${f(rho(plain, all))} | ${interval(plain)} | – |`);
  const fixed = marks(AS_IT_IS);
  console.log(
    `| all alike: ${say(ALIKE)} | – | ${f(rho(marks(ALIKE), all))} | ${interval(marks(ALIKE))} | – |`,
  );
  console.log(`| as they are: ${say(AS_IT_IS)} | ${f(rho(fixed, all))} | – | ${interval(fixed)} | |`);
  for (const [name, from] of [
    ['chosen from all alike', ALIKE],
    ['chosen from as they are', AS_IT_IS],
  ] as const) {
    const whole = chosen(from, all);
    const seen = rho(marks(whole), all);
    const held = new Array<number>(takes.length);
    const found: string[] = [];
    for (const group of groups) {
      const rest = all.filter((k) => !group.includes(k));
      const prices = chosen(from, rest);
      found.push(say(prices));
      const known = pick(marks(prices), rest);
      for (const k of group) held[k] = place(known, marks(prices)[k]!);
    }
    console.log(
      `| ${name}: ${say(whole)} | ${f(seen)} | ${f(rho(held, all))} | ${interval(held)} | ${f(seen - rho(held, all))} |`,
    );
    console.log(
      `| … in the parts: ${[...new Set(found)].map((x) => `${found.filter((y) => y === x).length} × ${x}`).join('; ')} | | | | |`,
    );
  }

  console.log('\n| one price gone | Spearman | less as it is, 95 % by question |\n|---|---|---|');
  for (const [name, change] of [
    ['time: not judged', { time: 0 }],
    ['time: a missed note', { time: 1 }],
    ['pitch: not judged', { pitch: 0 }],
    ['pitch: a missed note', { pitch: 1 }],
    ['extra: free', { extra: 0 }],
    ['extra: a quarter of a missed note', { extra: 0.25 }],
    ['extra: as a missed note', { extra: 1 }],
    ['pitch against the note before: not judged', { pitchShift: 1 }],
    ['pitch against the note before: all that counts', { pitchShift: 0 }],
  ] as const) {
    const x = marks({ ...AS_IT_IS, ...change });
    console.log(`| ${name} | ${f(rho(x, all))} | ${gain(x, fixed)} |`);
  }
  console.log('\n| part | takes | as they are | plain |\n|---|---|---|---|');
  for (const [k, group] of groups.entries())
    console.log(`| ${parts[k]} | ${group.length} | ${f(rho(fixed, group))} | ${f(rho(plain, group))} |`);
}
