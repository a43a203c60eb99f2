import type { SittingSetup, Station } from '../../music/sitting.ts';
import { beliefOf, isUnmarked, LEAST_TAKES } from './estimate.ts';
import { valueAt } from './marks.ts';
import type { Evidence, Unit, UnitKind } from './types.ts';

/** Why something stands on a day's list. */
export type PlanReason = 'new' | 'unknown' | 'weak' | 'some' | 'due' | 'keep';

export interface PlanItem {
  readonly unit: Unit;
  readonly minutes: number;
  readonly why: PlanReason;
}

export interface PlanDay {
  /** Days from today, 0 = today. */
  readonly ahead: number;
  /** The whole sitting once, in so many minutes; null: none on this day. */
  readonly mockMinutes: number | null;
  /** In the order in which they are best played. */
  readonly items: readonly PlanItem[];
}

export interface PlanRequest {
  readonly setup: SittingSetup;
  readonly units: readonly Unit[];
  readonly evidence: readonly Evidence[];
  /** When whole sittings were over, ms since 1970. */
  readonly sittingsAtMs: readonly number[];
  readonly nowMs: number;
  /** Midnight at which today began, ms since 1970, by the player's calendar. */
  readonly todayMs: number;
  /** 0 = Monday … 6 = Sunday. */
  readonly todayWeekday: number;
  /** Days from today to the exam; 0: today. */
  readonly examAhead: number;
  /** Weekdays of practice, 0 = Monday. */
  readonly weekdays: readonly number[];
  /** A day, 5…300. */
  readonly minutes: number;
  /** Lowest mark for "there". */
  readonly there: number;
}

const DAY_MS = 86_400_000;
/** Fewest minutes of a day, and what half a day's are rounded to. */
const STEP = 5;
/**
 * A day is given out in stints of a tenth of its minutes, three at the least: one or two takes of anything. Wherever
 * raters heard a difference, three minutes by turns had done more than twelve on end (clarinettists: Carter & Grahn 2016,
 * doi 10.3389/fpsyg.2016.01251), and accuracy rose in a second session only where it came a day later (musicians: Simmons
 * 2012, doi 10.1177/0022429411424798). With longer ones more is left out for a day, and a day
 * without costs more than a longer stint brings (`bench:plan`, *daily*).
 */
const STINT = { share: 0.1, least: 3 };
/** Days between two whole sittings, and how many before the exam the last one lies: time to mend something. */
const MOCK_EVERY = 7;
const LAST_MOCK = 3;
/** Longest plan that is told, days. */
const LONGEST = 366;

/** A human's order: what warms the hands first, pieces while they are fresh, then the unseen; ear and words last. */
const ORDER: readonly UnitKind[] = [
  'scales',
  'chords',
  'pieces',
  'reading',
  'improvising',
  'rhythm',
  'melody',
  'questions',
];

/** What is believed of a unit on a day to come. */
interface Standing {
  readonly unit: Unit;
  /** An estimate can be told of it, or none is wanted. */
  readonly known: boolean;
  /** Chance of "there" were the level so many logits higher; null: never marked. */
  readonly chance: ((higher: number) => number) | null;
  /** How much higher the level is expected by then. */
  higher: number;
  /** Whole days since it was last played; null: never. */
  since: number | null;
}

function standingOf(unit: Unit, { evidence, nowMs, todayMs, there }: PlanRequest): Standing {
  const lastMs = evidence.reduce(
    (last, one) => (one.what === unit.what ? Math.max(last, one.atMs) : last),
    -Infinity,
  );
  const since = lastMs === -Infinity ? null : Math.max(0, Math.ceil((todayMs - lastMs) / DAY_MS));
  if (isUnmarked(unit)) return { unit, known: true, chance: null, higher: 0, since };
  const belief = beliefOf(unit, evidence, nowMs, there);
  const steps = SHIFTS.map((higher) => belief.chance(higher));
  return {
    unit,
    // Questions are written down in whole sittings alone.
    known: belief.lately >= LEAST_TAKES || unit.what === 'questions',
    chance: (higher) => valueAt(Float64Array.from(steps), (higher - SHIFTS[0]!) / SHIFT_STEP),
    ...{ higher: 0, since },
  };
}

/** How far a level can be thought to rise or to fall, logits. */
const SHIFT_STEP = 0.25;
const SHIFTS: readonly number[] = Array.from({ length: 21 }, (_, i) => i * SHIFT_STEP - 1);

/** What half an hour's practice of all stations may bring a skill in a day, and in a whole plan (logits); ours. */
const RISE = { aDay: 0.03, least: 0.3, most: 1.5 };
/** What is lost of it, where it is left alone. */
const FALL = 0.3;
/** Never marked: as something of which a third is still to be won. */
const UNMARKED_WORTH = 0.3;

/**
 * What practice is worth until the exam: by how much oftener it would come out "there" if it were practised than if it
 * were let go. Little where it is safe already, and little where it stays out of reach.
 */
function worthOf({ chance, higher }: Standing, daysLeft: number): number {
  if (!chance) return UNMARKED_WORTH;
  const rise = Math.min(RISE.most, RISE.least + RISE.aDay * daysLeft);
  return chance(higher + rise) - chance(higher - FALL);
}

/** Days after which a unit is fully due again: the spacing effect is flat about it, and lost is little. */
const WAIT = 3;
/** It goes on growing, so that nothing is put off for good by what is always worth more. */
const dueOf = ({ since }: Standing): number => (since === null ? 1 : since / WAIT);
/**
 * Each further stint of a day counts so much of the one before: what is spread over days lasts longer (Donovan &
 * Radosevich 1999, from memory). By `bench:plan` (seeds from 500000, four ways of learning) .35, .5 and .65 differ by less
 * than chance.
 */
const FURTHER = 0.5;

/** Of all practice, whatever it is believed to bring: what is believed may be wrong. */
const LEAST_WORTH = 0.2;

/** How much the first stint of a unit is wanted on a day. */
function wanted(one: Standing, meanWeight: number, daysLeft: number): number {
  const weight = meanWeight > 0 ? Math.max(0.25, one.unit.weight / meanWeight) : 1;
  // What was never tried is tried soon: till then nothing can be said of it.
  const fresh = one.since === null ? 2 : 1;
  return weight * fresh * (LEAST_WORTH + worthOf(one, daysLeft)) * (0.7 + 0.3 * dueOf(one));
}

/** Under this chance it is called weak. */
const WEAK = 0.65;
/** @param most whether the day gives it more than it gives others, or the same to all */
function reasonOf(one: Standing, most: boolean): PlanReason {
  if (one.since === null) return 'new';
  if (!one.known) return 'unknown';
  if (one.chance && one.chance(one.higher) < WEAK) return most ? 'weak' : 'some';
  return dueOf(one) >= 1 ? 'due' : 'keep';
}

const stintOf = (minutes: number): number => Math.max(STINT.least, Math.round(minutes * STINT.share));

/** Minutes of a day given out, a stint at a time, to what is wanted most; the first is longer by what is left over. */
function shared(
  minutes: number,
  standings: readonly Standing[],
  meanWeight: number,
  daysLeft: number,
): PlanItem[] {
  const wants = standings.map((one) => ({ one, want: wanted(one, meanWeight, daysLeft), own: 0 }));
  const usual = stintOf(minutes);
  let stint = usual + (minutes % usual);
  for (let left = minutes; left >= usual;) {
    const next = wants.reduce((most, other) => (other.want > most.want ? other : most));
    next.own += stint;
    next.want *= FURTHER;
    left -= stint;
    stint = usual;
  }
  const given = wants.filter(({ own }) => own > 0);
  const even = given.every(({ own }) => own < 2 * usual);
  return given
    .map(({ one, own }) => ({ unit: one.unit, minutes: own, why: reasonOf(one, even || own >= 2 * usual) }))
    .sort((a, b) => ORDER.indexOf(a.unit.what) - ORDER.indexOf(b.unit.what) || a.unit.at - b.unit.at);
}

/** Minutes at a station, its page and its items: ours, from what the steps last; rounded up. */
function stationMinutes(station: Station): number {
  switch (station.what) {
    case 'sound':
      return 1;
    case 'pieces':
      return 4 * station.pieces.length;
    case 'scales':
      return 0.7 * station.count;
    case 'chords':
      return 0.5 + 0.15 * station.count;
    case 'unseen':
      return 1 + Math.max(station.readingSec, station.improvisingSec + 60) / 60;
    case 'melody':
    case 'rhythm':
      return 1.7 * station.count;
    case 'questions':
      return 0.3 * station.count + 0.5;
  }
}
/** About how long a whole sitting takes, minutes. */
export const sittingMinutes = ({ stations }: SittingSetup): number =>
  Math.ceil(stations.reduce((sum, station) => sum + stationMinutes(station) + 0.3, 0));

/** Practice days from today to the day before the exam. */
const practiceDays = ({ examAhead, weekdays, todayWeekday }: PlanRequest): number[] =>
  Array.from({ length: Math.min(LONGEST, Math.max(0, examAhead)) }, (_, ahead) => ahead).filter((ahead) =>
    weekdays.includes((todayWeekday + ahead) % 7),
  );

/** Days of whole sittings: one a week, and the last of those that lie three days or more before the exam. */
function mockDays(request: PlanRequest, days: readonly number[]): ReadonlySet<number> {
  const last = days.findLast((ahead) => request.examAhead - ahead >= LAST_MOCK);
  const lastMs = Math.max(-Infinity, ...request.sittingsAtMs);
  // The first waits for some days of practice, where there are as many.
  let before = Number.isFinite(lastMs)
    ? Math.floor((lastMs - request.todayMs) / DAY_MS)
    : Math.min(0, 3 - MOCK_EVERY);
  const mocks = new Set<number>();
  for (const ahead of days) {
    if (last === undefined || ahead > last) break;
    const isLast = ahead === last && ahead - before > 1;
    if (ahead - before < MOCK_EVERY && !isLast) continue;
    // Two within three days of each other tire more than they tell: the last one is kept.
    if (!isLast && last - ahead < LAST_MOCK) continue;
    mocks.add(ahead);
    before = ahead;
  }
  return mocks;
}

/**
 * Each day's list from today to the day before the exam. It is a pure function of the record and of today, so that it
 * is made anew every day and what was missed simply moves on: what was not played is the more due.
 * @throws RangeError for minutes beyond 5…300
 */
export function planDays(request: PlanRequest): PlanDay[] {
  const { units, minutes, setup, examAhead } = request;
  if (!(minutes >= STEP && minutes <= 300))
    throw new RangeError(`minutes a day must be 5…300, got ${minutes}`);
  const standings = units.map((unit) => standingOf(unit, request));
  const weights = units.map(({ weight }) => weight);
  const meanWeight = weights.reduce((sum, weight) => sum + weight, 0) / Math.max(1, weights.length);
  const days = practiceDays(request);
  const mocks = mockDays(request, days);
  const whole = sittingMinutes(setup);
  let before = 0;
  return days.map((ahead): PlanDay => {
    for (const one of standings) if (one.since !== null) one.since += ahead - before;
    before = ahead;
    const mock = mocks.has(ahead);
    const left = mock ? minutes - whole : minutes;
    // On the day before the exam hands and ears are fresh rather than tired.
    const eve = examAhead - ahead === 1 ? Math.max(STEP, Math.round(minutes / 2 / STEP) * STEP) : left;
    const items =
      left >= STINT.least && standings.length > 0
        ? shared(Math.min(left, eve), standings, meanWeight, examAhead - ahead)
        : [];
    for (const one of standings) {
      const own = items.find(({ unit }) => unit === one.unit);
      if (own || mock) one.since = 0;
      // What lies ahead is practised by then: expected a little better, so that the list does not stand still.
      if (own) one.higher += (RISE.aDay * own.minutes) / STEP / 2;
    }
    return { ahead, mockMinutes: mock ? whole : null, items };
  });
}
