import { kindest, prepare } from '../../../src/tests-engine/marks/prepare.ts';
import type { Reading } from '../../../src/tests-engine/marks/placed.ts';
import type { Take } from './agreement.ts';
import { plainPitches } from './plain.ts';
import { bootstrap, mean, random, spearman } from './stats.ts';

/**
 * What the literature says people hear in a sung melody, each as points a written note on top of the rule's own: does
 * the order of takes come nearer to the panel's where its weight is chosen on nine parts and judged on the tenth?
 * Each is taken from the kindest reading, so that a take in another key or tempo loses nothing.
 */
interface Measure {
  readonly name: string;
  readonly source: string;
  /** Points lost a written note, 0…1; less than 0 where something is given back. */
  readonly points: (pairs: readonly Pair[], reading: Reading) => number;
}
/** An answered note: what was written and played (in the take's own key), and when, on the target's clock. */
interface Pair {
  readonly i: number;
  readonly p: number;
  readonly q: number;
  readonly t: number;
  readonly s: number;
}

const NOTE = 0.5;
const clamp = (x: number): number => Math.max(0, Math.min(1, x));
const direction = (step: number): number => (Math.abs(step) < NOTE ? 0 : Math.sign(step));
/** A quantity of every answered note and the one answered before it, summed over written notes. */
const bySteps =
  (of: (a: Pair, b: Pair) => number) =>
  (pairs: readonly Pair[], { frame }: Reading): number =>
    pairs.slice(1).reduce((sum, b, k) => sum + of(pairs[k]!, b), 0) / frame.t.length;
const third = (pairs: readonly Pair[], last: boolean): number => {
  const count = Math.ceil(pairs.length / 3);
  const part = last ? pairs.slice(-count) : pairs.slice(0, count);
  const errors = part.map(({ p, q }) => q - p).sort((a, b) => a - b);
  return errors[errors.length >> 1] ?? 0;
};
const classOf = (midi: number): number => ((midi % 12) + 12) % 12;

const MEASURES: readonly Measure[] = [
  {
    name: 'contour: a step that goes another way than written',
    source: 'Dowling 1978, Psychol. Rev. 85',
    points: bySteps((a, b) => (direction(b.p - a.p) === direction(b.q - a.q) ? 0 : 1)),
  },
  {
    name: 'intervals: a step off by more than half a semitone, wholly by one and a half',
    source: 'Larrouy-Maestri et al. 2013, J. Voice 27',
    points: bySteps((a, b) => clamp(Math.abs(b.q - a.q - b.p + a.p) - NOTE)),
  },
  {
    name: 'tonality: a note foreign to the melody’s own pitch classes',
    source: 'Krumhansl 1990, Cognitive Foundations of Musical Pitch',
    points: (pairs, { frame }) => {
      const own = [...frame.p].map(classOf);
      const far = (q: number): number =>
        Math.min(...own.map((c) => Math.abs(((classOf(q) - c + 18) % 12) - 6)));
      return pairs.reduce((sum, { q }) => sum + clamp(2 * (far(q) - 0.25)), 0) / frame.t.length;
    },
  },
  {
    name: 'drift: key of the last third against the first, beyond 0.3 semitones',
    source: 'Mauch, Frieler & Dixon 2014, J. Acoust. Soc. Am. 136',
    points: (pairs) => clamp((Math.abs(third(pairs, true) - third(pairs, false)) - 0.3) / 1.7),
  },
  {
    name: 'modulations: a change of key by a semitone or more that stays for a note',
    source: 'Larrouy-Maestri et al. 2013',
    points: (pairs, { frame }) => {
      let count = 0;
      const off = pairs.map(({ p, q }) => q - p);
      for (let k = 1; k + 1 < off.length; k++)
        if (Math.abs(off[k]! - off[k - 1]!) >= 1 && Math.abs(off[k + 1]! - off[k]!) < NOTE) count++;
      return count / frame.t.length;
    },
  },
  {
    name: 'shape: a wrong note gets points back where the step to it goes the right way',
    source: 'Dowling 1978; partial credit for the right shape',
    points: bySteps((a, b) =>
      Math.abs(b.q - b.p) > NOTE && direction(b.p - a.p) === direction(b.q - a.q) ? -1 : 0,
    ),
  },
  {
    name: 'tempo: unevenness of local tempo beyond a tenth',
    source: 'Repp 2005, Psychon. Bull. Rev. 12',
    points: (pairs) => {
      const local = pairs.slice(1).flatMap((b, k) => {
        const [due, was] = [b.t - pairs[k]!.t, b.s - pairs[k]!.s];
        return due > 0 && was > 0 ? [Math.log(was / due)] : [];
      });
      if (local.length < 2) return 0;
      const middle = mean(local);
      return clamp(Math.sqrt(mean(local.map((x) => (x - middle) ** 2))) - 0.1);
    },
  },
];
const WEIGHTS = [0, 0.1, 0.2, 0.4, 0.8];
/** A weight is taken where it gains more than this on the parts that it is chosen on. */
const WORTH = 0.001;
const ROUNDS = 2000;
const f = (x: number): string => x.toFixed(3);

const pairsOf = ({ frame: { t, p, s, q }, matches }: Reading): Pair[] =>
  matches.map(({ i, j, source }) => ({ i, p: p[i]!, q: q[source]!, t: t[i]!, s: s[j]! }));

export function measures(takes: readonly Take[]): void {
  const panel = takes.map((t) => mean(t.grades));
  const readings = takes.map((t) => kindest(prepare(t.request), () => 1));
  const base = readings.map((r) => -r.cost / r.frame.t.length);
  const points = MEASURES.map((m) => readings.map((r) => m.points(pairsOf(r), r)));
  const all = takes.map((_, k) => k);
  const part = takes.map((t) => t.pattern.split('_')[0]);
  const groups = [...new Set(part)].map((name) => all.filter((k) => part[k] === name));
  const pick = (x: readonly number[], at: readonly number[]): number[] => at.map((k) => x[k]!);
  const rho = (x: readonly number[], at: readonly number[]): number => spearman(pick(x, at), pick(panel, at));
  const marks = (weights: readonly number[]): number[] =>
    base.map((b, k) => b - weights.reduce((sum, w, m) => sum + w * points[m]![k]!, 0));

  /** Weights of the measures in `open` that suit some takes best, found one step after another. */
  function chosen(open: readonly number[], at: readonly number[]): number[] {
    const now = MEASURES.map(() => 0);
    let by = rho(base, at);
    for (;;) {
      let step: { m: number; w: number; reached: number } | null = null;
      for (const m of open)
        for (const w of WEIGHTS) {
          const reached = rho(marks(now.map((own, k) => (k === m ? w : own))), at);
          if (reached > (step?.reached ?? by + WORTH)) step = { m, w, reached };
        }
      if (!step) return now;
      now[step.m] = step.w;
      by = step.reached;
    }
  }

  console.log(
    '\n| measure, points a note on top of the rule | weight | seen | nested | nested less as it is, 95 % | source |',
  );
  console.log('|---|---|---|---|---|---|');
  console.log(`| none | – | ${f(rho(base, all))} | – | – | |`);
  const rows: [string, number[], string][] = MEASURES.map((m, k) => [m.name, [k], m.source]);
  rows.push(['all of them, as many as gain', MEASURES.map((_, k) => k), '']);
  for (const [name, open, source] of rows) {
    const whole = chosen(open, all);
    const held = new Array<number>(takes.length);
    const found: string[] = [];
    for (const group of groups) {
      const weights = chosen(
        open,
        all.filter((k) => !group.includes(k)),
      );
      found.push(open.map((m) => weights[m]).join(' '));
      const own = marks(weights);
      for (const k of group) held[k] = own[k]!;
    }
    const gain = bootstrap(groups, ROUNDS, (at) => rho(held, at) - rho(base, at)).map(f);
    const kinds = [...new Set(found)].map((w) => `${found.filter((x) => x === w).length} × ${w}`).join('; ');
    console.log(
      `| ${name} | ${kinds} | ${f(rho(marks(whole), all))} | ${f(rho(held, all))} | ${gain.join(' … ')} | ${source} |`,
    );
  }

  // A set of questions is itself drawn from many: what five of the ten would have shown.
  const plain = takes.map((t) => plainPitches(t.request));
  const next = random(20261128);
  const halves = Array.from({ length: ROUNDS }, () => {
    const drawn = groups
      .map((group) => ({ group, by: next() }))
      .sort((a, b) => a.by - b.by)
      .slice(0, groups.length >> 1)
      .flatMap(({ group }) => group);
    return { mark: rho(base, drawn), more: rho(base, drawn) - rho(plain, drawn) };
  });
  const spread = (of: (half: (typeof halves)[number]) => number): string => {
    const sorted = halves.map(of).sort((a, b) => a - b);
    return [0.025, 0.5, 0.975].map((share) => f(sorted[Math.floor(share * sorted.length)]!)).join(', ');
  };
  console.log('\n| on half of the questions (2.5, 50, 97.5 % of such halves) | |\n|---|---|');
  console.log(`| mark | ${spread((h) => h.mark)} |`);
  console.log(`| mark less plain alignment of pitches | ${spread((h) => h.more)} |`);
  console.log(
    `| within a question, mean: mark, plain | ${f(mean(groups.map((g) => rho(base, g))))}, ${f(mean(groups.map((g) => rho(plain, g))))} |`,
  );
}
