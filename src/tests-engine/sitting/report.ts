import { outcomeOf, type Outcome, type Thresholds } from '../../music/outcome.ts';
import type { Fault, Played, SittingRun, Station, StationRun, UnseenChoice } from '../../music/sitting.ts';
import { isComplete } from './step.ts';

/** What the record says by now of something that was played: the teacher's overrides are in it. */
export interface Counted {
  readonly mark: number | null;
  readonly outcome: Outcome | null;
}

/** How a station came out. */
export interface StationReport {
  readonly at: number;
  readonly station: Station;
  readonly run: StationRun;
  /** Mean of its marks, the examiner's own before the machine's, 0…100; null where nothing has one. */
  readonly mark: number | null;
  readonly outcome: Outcome | null;
  /** Marks by which it was told, and whether the examiner gave any of them. */
  readonly marks: readonly number[];
  readonly byExaminer: boolean;
  /** Everything that it asks for was played. */
  readonly complete: boolean;
  readonly faults: readonly Fault[];
}

export interface SittingReport {
  readonly stations: readonly StationReport[];
  /** Station with the most to spare over "there"; null with fewer than two marks, or where none stands out. */
  readonly strongest: number | null;
  /** Station to practise first, and why; null where nothing was marked. */
  readonly first: {
    readonly at: number;
    readonly why: 'furthest' | 'weight' | 'least-spare' | 'even';
  } | null;
  /** By the teacher's weights; null where no station has one. `missing`: stations with a weight and without a mark. */
  readonly total: { readonly mark: number; readonly missing: number } | null;
}

/** Marks nearer to each other than this are not told apart: a mark's own uncertainty is some five points. */
const APART = 5;

/** A question is right or not; what is played has its own mark, or the examiner's, or as the record has it by now. */
export function markOf(one: Played, counted: ReadonlyMap<string, Counted>): number | null {
  if (one.own !== null) return one.own;
  if (one.right !== null) return one.right ? 100 : 0;
  const now = one.attemptId === null ? undefined : counted.get(one.attemptId);
  return now ? now.mark : one.mark;
}

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

/** A wrong answer to a rhythm's question holds its outcome back, and so the station's. */
function outcomeAt(
  mark: number,
  played: readonly Played[],
  counted: ReadonlyMap<string, Counted>,
  thresholds: Thresholds,
): Outcome {
  const told = outcomeOf(mark, thresholds);
  const held = played.some((one) => {
    const own = one.own === null ? (counted.get(one.attemptId ?? '') ?? one) : null;
    return own !== null && own.mark !== null && own.outcome === 'close' && own.mark >= thresholds.there;
  });
  return told === 'there' && held ? 'close' : told;
}

/** What a sitting that is over, or as far as it has gone, comes to. @param counted by attempt */
export function reportOf(
  run: SittingRun,
  thresholds: Thresholds,
  counted: ReadonlyMap<string, Counted> = new Map(),
): SittingReport {
  const stations = run.setup.stations.map((station, at): StationReport => {
    const own = run.stations[at]!;
    const marks = own.played.map((one) => markOf(one, counted)).filter((mark) => mark !== null);
    const mark = marks.length > 0 ? mean(marks) : null;
    return {
      ...{ at, station, run: own, mark, marks },
      outcome: mark === null ? null : outcomeAt(mark, own.played, counted, thresholds),
      byExaminer: own.played.some((one) => one.own !== null),
      complete: isComplete(run, at),
      faults: own.faults,
    };
  });
  return {
    stations,
    strongest: strongestOf(stations),
    first: firstOf(stations, thresholds),
    total: totalOf(stations),
  };
}

type Marked = StationReport & { readonly mark: number };
const marked = (stations: readonly StationReport[]): Marked[] =>
  stations.filter((one): one is Marked => one.mark !== null);

function strongestOf(stations: readonly StationReport[]): number | null {
  const order = marked(stations).sort((a, b) => b.mark - a.mark);
  const [best, next] = order;
  return best && next && best.mark - order.at(-1)!.mark >= APART ? best.at : null;
}

/**
 * Where most is to be won: furthest under "there", times its weight where there are weights; else the least to spare, if
 * it stands out.
 */
function firstOf(stations: readonly StationReport[], { there }: Thresholds): SittingReport['first'] {
  const all = marked(stations);
  const weighed = all.some(({ station }) => station.weight > 0);
  const loss = ({ mark, station }: Marked): number =>
    Math.max(0, there - mark) * (weighed ? station.weight : 1);
  const most = all.reduce<Marked | null>((a, b) => (a === null || loss(b) > loss(a) ? b : a), null);
  if (most && loss(most) > 0) return { at: most.at, why: weighed ? 'weight' : 'furthest' };
  const least = all.reduce<Marked | null>((a, b) => (a === null || b.mark < a.mark ? b : a), null);
  if (!least) return null;
  const apart = Math.max(...all.map(({ mark }) => mark)) - least.mark;
  return { at: least.at, why: apart < APART ? 'even' : 'least-spare' };
}

function totalOf(stations: readonly StationReport[]): SittingReport['total'] {
  const weighed = stations.filter(({ station }) => station.weight > 0);
  const told = marked(weighed);
  if (told.length === 0) return null;
  const weight = told.reduce((sum, { station }) => sum + station.weight, 0);
  const sum = told.reduce((all, { mark, station }) => all + mark * station.weight, 0);
  return { mark: sum / weight, missing: weighed.length - told.length };
}

/** How a station's mark stands to those of earlier sittings. */
export interface MarksCompared {
  /** Now minus the mean of the earlier ones, and the limits between which the true change lies with 90 %. */
  readonly by: number;
  readonly low: number;
  readonly high: number;
  readonly earlier: number;
  readonly verdict: 'better' | 'worse' | 'not-told';
}

/** Marks of the same station move by so much from day to day before anything is known of a player; worth so many sittings. */
const USUAL_SD = 12;
const PRIOR_WEIGHT = 4;
const Z90 = 1.645;

/** Compares a mark with earlier ones of the same station, oldest first; null where there are none. */
export function compareMarks(now: number, earlier: readonly number[]): MarksCompared | null {
  if (earlier.length === 0) return null;
  const before = mean(earlier);
  const squares = earlier.reduce((sum, mark) => sum + (mark - before) ** 2, 0);
  const variance = (PRIOR_WEIGHT * USUAL_SD ** 2 + squares) / (PRIOR_WEIGHT + earlier.length - 1);
  const half = Z90 * Math.sqrt(variance * (1 + 1 / earlier.length));
  const by = now - before;
  const verdict = by - half > 0 ? 'better' : by + half < 0 ? 'worse' : 'not-told';
  return { by, low: by - half, high: by + half, earlier: earlier.length, verdict };
}

/** What of a station must agree for its marks to be compared: kind, level, what was chosen; not how many were asked. */
export function stationKey(station: Station, choice: UnseenChoice | null): string {
  switch (station.what) {
    case 'unseen':
      return choice === 'improvising'
        ? `improvising ${station.improvisingLevel} ${station.plays}`
        : `reading ${station.readingLevel} ${station.shows} ${station.click}`;
    case 'scales':
      return `scales ${station.list?.name ?? station.level} ${station.click}`;
    case 'chords':
      return `chords ${station.list?.name ?? [...station.families].sort().join(',')} ${station.how} ${station.voicing}`;
    case 'pieces':
      return `pieces ${station.pieces
        .map(({ trackId }) => trackId)
        .sort()
        .join(' ')}`;
    case 'sound':
      return 'sound';
    default:
      return `${station.what} ${station.level}`;
  }
}
