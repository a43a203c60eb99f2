import { DEFAULT_THRESHOLDS } from '../../src/music/outcome.ts';
import {
  defaultSetup,
  estimateUnit,
  planDays,
  planUnits,
  standardTuning,
  type Evidence,
  type SetupRequest,
  type Unit,
} from '../../src/tests-engine/index.ts';
import { figuresOf } from './figures.ts';
import { Candidate } from './plan/candidate.ts';
import { LEARNERS, type LearnerName } from './plan/learners.ts';
import { fftMicroseconds } from './yardstick.ts';

/**
 * Simulated candidates on their way to an exam: whether what is foretold of each station comes true, and whether
 * following the plan lifts them at least as fast as the same minutes spent evenly, or only on the weakest.
 *
 *   npm run bench:plan -- [--candidates 120] [--first 410000] [--days 60] [--minutes 30] [--learner NAME] [--write]
 *
 * How they are modelled stands in `plan/candidate.ts`, how they learn, four ways, in `plan/learners.ts`. The plan knows their marks alone.
 */
figuresOf('plan', 'bench:plan');
const given = (name: string, usual: number): number =>
  Number(process.argv[process.argv.indexOf(`--${name}`) + 1]) || usual;
const flagged = (name: string, usual: number): number =>
  process.argv.includes(`--${name}`) ? given(name, usual) : usual;
const COUNT = flagged('candidates', 120);
const FIRST_SEED = flagged('first', 410_000);
const DAYS = flagged('days', 60);
const MINUTES = flagged('minutes', 30);
const ONLY = process.argv.includes('--learner') ? process.argv[process.argv.indexOf('--learner') + 1] : null;
const NAMES = (Object.keys(LEARNERS) as LearnerName[]).filter((name) => ONLY === null || name === ONLY);
const LOOK_AT = [0, 5, 10, 20, 40, 60].filter((day) => day <= DAYS);
const CALIBRATED_AT = [5, 20, 60];
const NOW = Date.UTC(2027, 0, 4);
const DAY_MS = 86_400_000;
const { there } = DEFAULT_THRESHOLDS;

const request: SetupRequest = {
  ...{ level: 3, instrument: 'guitar', tuning: standardTuning('guitar').strings },
  ...{ id: '0'.repeat(32), name: 'Mock', pieces: [{ trackId: 'a'.repeat(32), title: 'One' }] },
};
// What is improvised is told and not marked: nothing is foretold of it, and so nothing compared.
const made = defaultSetup(request);
const setup = {
  ...made,
  stations: made.stations.map((one) =>
    one.what === 'unseen' ? { ...one, offers: 'reading' as const } : one,
  ),
};
const units = planUnits(setup);

type Policy = 'plan' | 'even' | 'weakest';
const POLICIES: readonly Policy[] = ['plan', 'even', 'weakest'];

interface Known {
  readonly evidence: Evidence[];
  readonly sittingsAtMs: number[];
}

/** The day's minutes as the plan has them; a whole sitting asks everything once. */
function byPlan(day: number, { evidence, sittingsAtMs }: Known): Map<Unit, number> {
  const nowMs = NOW + day * DAY_MS;
  const [today] = planDays({
    ...{ setup, units, evidence, sittingsAtMs, nowMs, todayMs: nowMs, todayWeekday: day % 7, there },
    ...{ examAhead: DAYS - day, weekdays: [0, 1, 2, 3, 4, 5, 6], minutes: MINUTES },
  });
  const minutes = new Map<Unit, number>(today?.items.map((item) => [item.unit, item.minutes]));
  if (today && today.mockMinutes !== null) {
    sittingsAtMs.push(nowMs + 3_600_000);
    const each = Math.min(today.mockMinutes, MINUTES) / units.length;
    for (const unit of units) minutes.set(unit, (minutes.get(unit) ?? 0) + each);
  }
  return minutes;
}

/** On the eve the plan has half the time: so have the others, as the same minutes are compared. */
const minutesOn = (day: number): number => (day === DAYS - 1 ? Math.round(MINUTES / 10) * 5 : MINUTES);

const evenly = (day: number): Map<Unit, number> =>
  new Map(units.map((unit) => [unit, minutesOn(day) / units.length]));

/** All of it on what is believed to be weakest; what is not known yet comes first. */
function onWeakest(day: number, { evidence }: Known): Map<Unit, number> {
  const believed = units.map((unit) => {
    const estimate = estimateUnit(unit, evidence, NOW + day * DAY_MS, there);
    return estimate.is === 'known' ? estimate.chance : -estimateMore(estimate);
  });
  return new Map([[units[believed.indexOf(Math.min(...believed))]!, minutesOn(day)]]);
}
const estimateMore = (estimate: ReturnType<typeof estimateUnit>): number =>
  estimate.is === 'unknown' ? estimate.more : 0;

interface Foretold {
  readonly day: number;
  readonly what: string;
  readonly chance: number;
  readonly low: number;
  readonly high: number;
  readonly true: number;
}

const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;
/** Half-width of the 95 % limits of a mean. */
const half = (values: readonly number[]): number => {
  const m = mean(values);
  return (1.96 * Math.sqrt(mean(values.map((one) => (one - m) ** 2)))) / Math.sqrt(values.length);
};

interface Lived {
  readonly curves: ReadonlyMap<Policy, number[][]>;
  readonly foretold: readonly Foretold[];
  readonly untold: ReadonlyMap<number, number>;
}

/** The same candidates, once by each policy. */
function live(learner: LearnerName): Lived {
  const curves = new Map<Policy, number[][]>();
  const foretold: Foretold[] = [];
  const untold = new Map<number, number>();
  for (const policy of POLICIES) {
    const all: number[][] = [];
    for (let n = 0; n < COUNT; n++) {
      const candidate = new Candidate(FIRST_SEED + n, units, learner);
      const known: Known = { evidence: [], sittingsAtMs: [] };
      const curve: number[] = [];
      for (let day = 0; day <= DAYS; day++) {
        const looks = LOOK_AT.includes(day);
        const tells = policy === 'plan' && CALIBRATED_AT.includes(day);
        if (looks || tells) {
          const truth = candidate.truth(there);
          if (looks) curve.push(mean(truth));
          if (tells)
            for (const [i, unit] of units.entries()) {
              const estimate = estimateUnit(unit, known.evidence, NOW + day * DAY_MS, there);
              if (estimate.is !== 'known') untold.set(day, (untold.get(day) ?? 0) + 1);
              else foretold.push({ day, what: unit.what, ...estimate, true: truth[i]! });
            }
        }
        if (day === DAYS) break;
        const minutes =
          policy === 'plan' ? byPlan(day, known) : policy === 'even' ? evenly(day) : onWeakest(day, known);
        known.evidence.push(...candidate.practise(minutes, day, NOW));
      }
      all.push(curve);
    }
    curves.set(policy, all);
  }
  return { curves, foretold, untold };
}

const percent = (share: number): string => (100 * share).toFixed(0);
const cell = (own: readonly Foretold[]): string =>
  own.length === 0
    ? '–'
    : `${percent(mean(own.map(({ chance }) => chance)))} → ${percent(mean(own.map((one) => one.true)))} (${own.length})`;

function printForetold({ foretold, untold }: Lived): void {
  console.log('| foretold → true (of 100) | after 5 days | after 20 | after 60 |');
  console.log('|---|---|---|---|');
  const row = (name: string, fits: (one: Foretold) => boolean): void =>
    console.log(
      `| ${name} | ${CALIBRATED_AT.map((day) => cell(foretold.filter((one) => one.day === day && fits(one)))).join(' | ')} |`,
    );
  const BINS = [0, 0.2, 0.4, 0.6, 0.8, 1.0001];
  for (const [b, high] of BINS.entries()) {
    const low = BINS[b - 1];
    if (low !== undefined)
      row(`${percent(low)}–${percent(Math.min(1, high))}`, ({ chance }) => chance >= low && chance < high);
  }
  for (const { what } of units) row(what, (one) => one.what === what);
  console.log('');
  for (const day of CALIBRATED_AT) {
    const own = foretold.filter((one) => one.day === day);
    if (own.length === 0) continue;
    const within = mean(own.map((one) => Number(one.true >= one.low - 0.02 && one.true <= one.high + 0.02)));
    const wide = mean(own.map(({ low, high }) => high - low));
    const off = Math.sqrt(mean(own.map((one) => (one.chance - one.true) ** 2)));
    console.log(
      `after ${day} days: true chance within the told 90 % range in ${percent(within)} of 100 (range ${percent(wide)} wide, r.m.s. error ${percent(off)}); too little known: ${untold.get(day) ?? 0} of ${own.length + (untold.get(day) ?? 0)}`,
    );
  }
}

function printCurves({ curves }: Lived): void {
  const of = (policy: Policy): number[][] => curves.get(policy) ?? [];
  console.log(`| mean true chance of “there” (of 100) | ${LOOK_AT.map((day) => `day ${day}`).join(' | ')} |`);
  console.log(`|---|${LOOK_AT.map(() => '---|').join('')}`);
  for (const policy of POLICIES)
    console.log(
      `| ${policy} | ${LOOK_AT.map((_, k) => (100 * mean(of(policy).map((curve) => curve[k]!))).toFixed(1)).join(' | ')} |`,
    );
  for (const policy of POLICIES.slice(1))
    console.log(
      `| plan before ${policy} | ${LOOK_AT.map((_, k) => {
        const leads = of('plan').map((curve, n) => 100 * (curve[k]! - of(policy)[n]![k]!));
        return `${mean(leads) >= 0 ? '+' : '−'}${Math.abs(mean(leads)).toFixed(1)} ± ${half(leads).toFixed(1)}`;
      }).join(' | ')} |`,
    );
}

console.log(
  `${COUNT} simulated candidates, seeds from ${FIRST_SEED}, ${MINUTES} minutes on each of ${DAYS} days; FFT ${fftMicroseconds().toFixed(0)} µs`,
);
for (const name of NAMES) {
  const lived = live(name);
  console.log(`\n## Learning by “${name}”\n`);
  printForetold(lived);
  console.log('');
  printCurves(lived);
}
