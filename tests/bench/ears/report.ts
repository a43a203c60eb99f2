import { isNegative } from '../../../audio-fixtures/index.ts';
import { f1, timing } from '../../support/fixtures/note-metrics.ts';
import { sums } from './score.ts';
import type { FamilyName } from '../../../audio-fixtures/index.ts';
import type { Result, Sums } from './score.ts';

/** Lines of text for a set's results. */

const figure = (value: number | null, digits = 3): string => (value === null ? '–' : value.toFixed(digits));
const ms = (sec: number | undefined): string => (sec === undefined ? '–' : (1000 * sec).toFixed(1));

function line(name: string, listener: string, { tally, takes, realTimeFactor }: Sums): string {
  const t = timing(tally);
  return [
    name.padEnd(9),
    listener.padEnd(24),
    String(takes).padStart(4),
    String(tally.truth).padStart(5),
    figure(f1(tally.hits50, tally)).padStart(6),
    figure(f1(tally.hits25, tally)).padStart(6),
    String(tally.truth - tally.onsetHits).padStart(5),
    String(tally.heard - tally.onsetHits).padStart(5),
    String(tally.onsetHits - tally.hits50).padStart(5),
    ms(t?.biasSec).padStart(6),
    ms(t?.spreadSec).padStart(5),
    (tally.onsetHits ? `${((100 * tally.octaves) / tally.onsetHits).toFixed(2)} %` : '–').padStart(7),
    `${realTimeFactor.toFixed(0)}×`.padStart(6),
  ].join(' ');
}

const HEAD =
  'family    listener                 takes notes  F ±50  F ±25  miss extra wrong   bias  spr. octaves  speed';

const positive = (results: readonly Result[]): Result[] =>
  results.filter((r) => !isNegative(r.family as FamilyName));

/** One row a family and listener, then all families together. */
export function familyTable(byListener: ReadonlyMap<string, readonly Result[]>): string[] {
  const out = [HEAD];
  const first = [...byListener.values()][0] ?? [];
  const families = [...new Set(positive(first).map((r) => r.family))];
  for (const family of families)
    for (const [name, results] of byListener)
      out.push(line(family, name, sums(results.filter((r) => r.family === family))));
  if (families.length > 1)
    for (const [name, results] of byListener) out.push(line('all', name, sums(positive(results))));
  return out;
}

/** Takes that hold no note: how many notes each listener reports, and what ours says of them. */
export function negativeTable(byListener: ReadonlyMap<string, readonly Result[]>): string[] {
  const out: string[] = [];
  for (const [name, results] of byListener) {
    const negative = results.filter((r) => isNegative(r.family as FamilyName));
    for (const family of new Set(negative.map((r) => r.family))) {
      const own = negative.filter((r) => r.family === family);
      const heard = own.reduce((sum, r) => sum + r.tally.heard, 0);
      const verdicts = own.map((r) => r.verdict).filter((v) => v !== null);
      const said = [...new Set(verdicts)].map((v) => `${v} ${verdicts.filter((w) => w === v).length}`);
      out.push(
        `${family.padEnd(9)} ${name.padEnd(24)} ${String(own.length).padStart(4)} ${String(heard).padStart(5)}  ${said.join(', ')}`,
      );
    }
  }
  return out.length ? ['no notes  listener                 takes heard  verdicts', ...out] : [];
}

/** How many notes were heard in all takes that the instrument does not have, by listener. */
export const outsideLine = (byListener: ReadonlyMap<string, readonly Result[]>): string =>
  `notes out of the instrument's range: ${[...byListener]
    .map(([name, results]) => `${name} ${results.reduce((sum, r) => sum + r.outside, 0)}`)
    .join(', ')}`;

/** Of the recorded noises laid in, how many were taken for a note, by family and listener. */
export function noiseLines(byListener: ReadonlyMap<string, readonly Result[]>): string[] {
  const out: string[] = [];
  for (const [name, results] of byListener)
    for (const family of new Set(results.flatMap((r) => (r.noises > 0 ? [r.family] : [])))) {
      const own = results.filter((r) => r.family === family);
      const laid = own.reduce((sum, r) => sum + r.noises, 0);
      const fooled = own.reduce((sum, r) => sum + r.fooled, 0);
      out.push(
        `${family.padEnd(9)} ${name.padEnd(24)} noises ${laid}, taken for a note ${fooled} (${((100 * fooled) / laid).toFixed(1)} %)`,
      );
    }
  return out;
}

/** Of the notes said to be so sure, how many were right. */
export function confidenceTable(results: readonly Result[]): string[] {
  const all = positive(results).flatMap((r) => r.confidences);
  if (all.length === 0) return [];
  const edges = [0, 0.5, 0.7, 0.8, 0.9, 0.95, 0.99, 1.0001];
  const out = ['confidence   notes   mean said   right'];
  for (let i = 0; i + 1 < edges.length; i++) {
    const bin = all.filter(({ said }) => said >= edges[i]! && said < edges[i + 1]!);
    if (bin.length === 0) continue;
    const mean = bin.reduce((sum, c) => sum + c.said, 0) / bin.length;
    const right = bin.filter((c) => c.right).length / bin.length;
    const range = `${edges[i]!.toFixed(2)}–${Math.min(1, edges[i + 1]!).toFixed(2)}`;
    out.push(
      `${range.padEnd(11)} ${String(bin.length).padStart(6)} ${mean.toFixed(3).padStart(11)} ${right.toFixed(3).padStart(7)}`,
    );
  }
  return out;
}
