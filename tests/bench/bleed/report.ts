import { makeRandom } from '../../../audio-fixtures/random.ts';
import { addTallies, f1, timing, type Tally } from '../../support/fixtures/note-metrics.ts';
import { CONDITIONS } from './conditions.ts';
import type { BleedResult, PlainResult } from './run.ts';

const ROUNDS = 1000;
const shown = (value: number | null): string => (value === null ? '   -' : value.toFixed(3));
/** What the chain gives: where it finds no backing, what is heard without it. */
const final = ({ over, plain }: BleedResult): PlainResult => (over ?? plain)!;
const chain = (result: BleedResult): Tally => final(result).tally;
export const noteF1 = (tallies: readonly Tally[]): number | null => {
  const sum = addTallies(tallies);
  return f1(sum.hits50, sum);
};

/** 95 % interval of the pooled note F1 by drawing scenes anew (Efron's percentile bootstrap). */
export function interval(tallies: readonly Tally[]): readonly [number, number] | null {
  if (tallies.length < 2) return null;
  const random = makeRandom(1);
  const values = Array.from({ length: ROUNDS }, () => {
    let [truth, heard, hits] = [0, 0, 0];
    for (let i = 0; i < tallies.length; i++) {
      const one = tallies[random.whole(0, tallies.length - 1)]!;
      truth += one.truth;
      heard += one.heard;
      hits += one.hits50;
    }
    return truth + heard > 0 ? (2 * hits) / (truth + heard) : 0;
  }).sort((a, b) => a - b);
  return [values[Math.floor(0.025 * ROUNDS)]!, values[Math.floor(0.975 * ROUNDS)]!];
}

const quantile = (values: readonly number[], q: number): number | null => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted.length ? sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))]! : null;
};

/** 95th percentile of how far onsets lie from the median deviation of their take, ms. */
function onsetP95(results: readonly BleedResult[]): number | null {
  const apart = results.map(chain).flatMap((one) => {
    const bias = timing(one)?.biasSec ?? 0;
    return one.errorsSec.map((e) => 1000 * Math.abs(e - bias));
  });
  return quantile(apart, 0.95);
}

/** Note F1 by condition: nothing, chain, the same scenes without bleed; errors of delay, drift and onsets. */
export function conditionTable(results: readonly BleedResult[]): string[] {
  const lines = [
    'condition               scenes notes  nothing  chain (95 %)            reach  marked  no bleed  onset F1  p95 ms  delay ms  ppm',
  ];
  const free = results.filter((r) => r.condition === 'no bleed');
  for (const { name, reach, is } of CONDITIONS) {
    const own = results.filter((r) => r.condition === name);
    if (own.length === 0) continue;
    const tallies = own.map(chain);
    const sum = addTallies(tallies);
    if (is.silent) {
      const marked = own.filter((r) => final(r).verdict !== 'refused').length;
      lines.push(
        `${name.padEnd(24)}${String(own.length).padEnd(7)}marked ${marked}, notes handed out ${sum.heard}`,
      );
      continue;
    }
    const numbers = new Set(own.map((r) => r.number));
    const [low, high] = interval(tallies) ?? [null, null];
    const worst = (of: (c: NonNullable<BleedResult['over']>) => number): number | null => {
      const all = own.flatMap((r) => (r.over ? [Math.abs(of(r.over))] : []));
      return all.length ? Math.max(...all) : null;
    };
    lines.push(
      [
        name.padEnd(23),
        String(own.length).padEnd(6),
        String(sum.truth).padEnd(6),
        shown(noteF1(own.flatMap((r) => r.plain?.tally ?? []))).padEnd(8),
        `${shown(noteF1(tallies))} (${shown(low)}…${shown(high)})`.padEnd(23),
        (reach?.toFixed(2) ?? '-').padEnd(6),
        shown(noteF1(own.filter((r) => final(r).verdict !== 'refused').map(chain))).padEnd(7),
        shown(noteF1(free.filter((r) => numbers.has(r.number)).map(chain))).padEnd(9),
        shown(f1(sum.onsetHits, sum)).padEnd(9),
        (onsetP95(own)?.toFixed(1) ?? '-').padEnd(7),
        (worst((c) => c.delayErrorMs)?.toFixed(3) ?? '-').padEnd(9),
        worst((c) => c.driftErrorPpm)?.toFixed(2) ?? '-',
      ].join(' '),
    );
  }
  return lines;
}

/** Verdicts against note F1, and F1 over all and over marked takes. */
export function verdictTable(results: readonly BleedResult[]): string[] {
  const of = (r: BleedResult): number => noteF1([chain(r)]) ?? 0;
  const silent = new Set(CONDITIONS.filter(({ is }) => is.silent).map(({ name }) => name));
  const loud = new Set(CONDITIONS.filter(({ is }) => (is.bleedDb ?? -99) > 6).map(({ name }) => name));
  const classes: readonly [string, (r: BleedResult) => boolean][] = [
    ['nobody plays', (r) => silent.has(r.condition)],
    ['F1 < 0.7', (r) => !silent.has(r.condition) && of(r) < 0.7],
    ['0.7 … 0.9', (r) => !silent.has(r.condition) && of(r) >= 0.7 && of(r) < 0.9],
    ['F1 ≥ 0.9', (r) => !silent.has(r.condition) && of(r) >= 0.9],
  ];
  const lines = ['take is       takes  marked  caution  refused'];
  for (const [name, belongs] of classes) {
    const own = results.filter(belongs);
    const count = (verdict: string): string => String(own.filter((r) => final(r).verdict === verdict).length);
    lines.push(
      `${name.padEnd(13)} ${String(own.length).padEnd(6)} ${count('ok').padEnd(7)} ${count('caution').padEnd(8)} ${count('refused')}`,
    );
  }
  const bad = results.filter((r) => final(r).verdict === 'ok' && of(r) < 0.7).length;
  const good = results.filter((r) => !silent.has(r.condition) && !loud.has(r.condition) && of(r) >= 0.9);
  const share = (n: number, all: number): string =>
    `${n} of ${all} (${((100 * n) / Math.max(1, all)).toFixed(1)} %)`;
  const played = results.filter((r) => !silent.has(r.condition));
  lines.push(
    `marked without caution though F1 < 0.7: ${share(bad, results.length)}, allowed 2 %`,
    `F1 ≥ 0.9 at up to +6 dB: caution ${share(good.filter((r) => final(r).verdict === 'caution').length, good.length)}, allowed 5 %; refused ${share(good.filter((r) => final(r).verdict === 'refused').length, good.length)}, allowed 1 %`,
    `note F1 over all takes ${shown(noteF1(played.map(chain)))}, over those not refused ${shown(noteF1(played.filter((r) => final(r).verdict !== 'refused').map(chain)))}`,
  );
  return lines;
}

/** CPU seconds of the chain for each 25 s of recording. */
export function speedLine(results: readonly BleedResult[], microseconds: number): string {
  const per25 = results.flatMap(({ over }) => (over ? [(25 * over.cpuSec) / over.recordingSec] : []));
  const middle = quantile(per25, 0.5);
  return middle === null
    ? 'no backing was found in any scene'
    : `CPU seconds for 25 s of recording: median ${middle.toFixed(2)}, that is ${Math.round((middle * 1e6) / microseconds)} transforms of the yardstick`;
}
