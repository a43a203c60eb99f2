import { median } from '../../../music/numbers.ts';
import { scaleAdvice } from './advice.ts';
import { placeAt, stepsOf, type Step } from './steps.ts';
import type { FactsOrder, Hesitation, ScaleFacts, ScalePlace } from './types.ts';

/** Median absolute deviation to standard deviation of a normal distribution. */
const MAD_TO_SD = 1.4826;
/** Steps either side by which the tempo around a step is told. */
const AROUND = 6;
/** Fewest steps that evenness and tempo are told from. */
const FEWEST = 6;
/**
 * A wait is told from so many times the take's own spread of steps on, but from 45 ms at the least and from 65 ms always:
 * four standard deviations are passed by chance once in 30,000 steps, and 80 ms are a wait whoever plays.
 */
const WAIT_SPREADS = 4;
const WAIT_LEAST_MS = 45;
const WAIT_ALWAYS_MS = 65;
/** Share of the step's own length under which a longer one is not felt as a wait: five times the 2.5 % noticed at best. */
const WAIT_SHARE = 0.125;
/** Notes either side by which a delay that is kept is told, and from how much on. */
const KEPT_OVER = 3;
const WAIT_KEPT_MS = 60;
/** A habit: a kind of place that costs this much each time, twice or more. */
const HABIT_MS = 25;
const HABIT_TIMES = 2;
/** Standard errors by which a habit stands out from the other steps. */
const HABIT_SURE = 2.5;
/** The end: its last three steps, shorter than the rest by this share. */
const END_STEPS = 3;
const HURRY = 0.12;
/** Fewest crossings that an accent is told from. */
const FEWEST_CROSSINGS = 3;

const sum = (values: readonly number[]): number => values.reduce((total, x) => total + x, 0);
const mean = (values: readonly number[]): number => sum(values) / values.length;

/** Facts of a take of a scale: where it waits, how even it is, how loud, at which tempo. Never throws. */
export function scaleFacts(order: FactsOrder): ScaleFacts {
  const { steps, swingRatio } = stepsOf(order);
  const pace = steps.map(({ tookSec, dueSec }) => tookSec / dueSec);
  const enough = steps.length >= FEWEST;
  const deviations = steps.map(({ tookSec, dueSec }, k) => {
    const near = [...pace.slice(Math.max(0, k - AROUND), k), ...pace.slice(k + 1, k + 1 + AROUND)];
    return near.length > 0 ? (tookSec - dueSec * median(near)) * 1000 : 0;
  });
  const middle = deviations.length > 0 ? median([...deviations]) : 0;
  const stepSd = deviations.length > 0 ? MAD_TO_SD * median(deviations.map((d) => Math.abs(d - middle))) : 0;
  const hesitations = enough ? waits(steps, deviations, stepSd) : [];
  const waited = new Map(hesitations.map(({ note, ms }) => [note, ms / 1000]));
  /** What each step would have taken without its wait. */
  const fluent = steps.map(({ note, tookSec }) => tookSec - (waited.get(note) ?? 0));
  const due = steps.map(({ dueSec }) => dueSec);
  const loudnessDb = loudness(order);
  const facts: Omit<ScaleFacts, 'advice'> = {
    tempoBpm: enough ? (order.tempoBpm * sum(due)) / sum(fluent) : null,
    driftPercent: enough ? drift(pace) : null,
    spreadMs: enough ? Math.sqrt(Math.max(0, (1000 * spread(due, fluent)) ** 2 - earVariance(order))) : null,
    hesitations,
    habits: enough ? habits(steps, deviations) : [],
    hurriedEndPercent: enough ? hurry(pace) : null,
    swingRatio,
    crossingAccentDb: accent(order, loudnessDb),
    loudnessDb,
  };
  return { ...facts, advice: scaleAdvice(order, facts) };
}

/**
 * A wait is a step that is too long by itself, or somewhat too long with the notes after it later by as much than those
 * before it: the ear places single onsets of low strings some 10 ms off, but not three in a row.
 */
function waits(steps: readonly Step[], deviations: readonly number[], stepSd: number): Hesitation[] {
  const least = Math.max(WAIT_LEAST_MS, WAIT_SPREADS * stepSd);
  const line = deviations.reduce<number[]>((sums, d) => [...sums, (sums.at(-1) ?? 0) + d], []);
  return steps.flatMap(({ note, place, dueSec }, k) => {
    const own = deviations[k]!;
    const from = Math.min(WAIT_ALWAYS_MS, Math.max(least, WAIT_SHARE * dueSec * 1000));
    const before = line.slice(Math.max(0, k - KEPT_OVER), k);
    const moved = median(line.slice(k, k + KEPT_OVER)) - (before.length > 0 ? median(before) : 0);
    const kept = own >= WAIT_LEAST_MS && moved >= WAIT_KEPT_MS;
    return own >= from || kept ? [{ note, ms: Math.round(kept ? (own + moved) / 2 : own), place }] : [];
  });
}

/** Deviations are cut off at so many of the middle one's: a single slip is no unevenness. */
const CUT = 3;

/**
 * Root mean square of how far each onset lies from a straight line through its neighbours, s: {@link AROUND} steps either
 * side, itself left out, so that a slow change of tempo is none of it.
 */
function spread(due: readonly number[], took: readonly number[]): number {
  const x = [0];
  const y = [0];
  due.forEach((d, k) => (x.push(x[k]! + d), y.push(y[k]! + took[k]!)));
  const off = x.map((here, i) => {
    const near = x.flatMap((_, k) => (k !== i && Math.abs(k - i) <= AROUND ? [k] : []));
    const [mx, my] = [mean(near.map((k) => x[k]!)), mean(near.map((k) => y[k]!))];
    const sxx = sum(near.map((k) => (x[k]! - mx) ** 2));
    const slope = sum(near.map((k) => (x[k]! - mx) * (y[k]! - my))) / sxx;
    // A prediction strays as well: by 1/n of the variance, and by more away from the middle.
    const strays = Math.sqrt(1 + 1 / near.length + (here - mx) ** 2 / sxx);
    return (y[i]! - my - slope * (here - mx)) / strays;
  });
  const most = CUT * MAD_TO_SD * median(off.map(Math.abs));
  return Math.sqrt(mean(off.map((e) => Math.min(Math.abs(e), most) ** 2)));
}

/** Mean square of what the ear adds to the onsets that were answered, ms². */
function earVariance({ target, mark, earSpreadMs }: FactsOrder): number {
  const found = mark.verdicts.flatMap(({ targetIndex, playedIndex }) =>
    targetIndex === null || playedIndex === null ? [] : [earSpreadMs(target[targetIndex]!.midi ?? 60) ** 2],
  );
  return found.length === 0 ? 0 : mean(found);
}

const nameOf = (place: ScalePlace): string =>
  place.kind === 'crossing' || place.kind === 'shift'
    ? `${place.kind} ${place.from} ${place.to}`
    : place.kind;

/** Kinds of place (this crossing, that shift) whose steps are longer than the plain ones, on average. */
function habits(steps: readonly Step[], deviations: readonly number[]): ScaleFacts['habits'] {
  const kinds = new Map<string, number[]>();
  steps.forEach(({ place }, k) => kinds.set(nameOf(place), [...(kinds.get(nameOf(place)) ?? []), k]));
  const plain = (kinds.get('plain') ?? []).map((k) => deviations[k]!);
  const base = plain.length > 0 ? median([...plain]) : 0;
  const sd = MAD_TO_SD * median(deviations.map((d) => Math.abs(d - base)));
  return [...kinds]
    .flatMap(([name, at]) => {
      if (name === 'plain' || at.length < HABIT_TIMES) return [];
      const ms = mean(at.map((k) => deviations[k]!)) - base;
      const sure = ms >= (HABIT_SURE * sd) / Math.sqrt(at.length);
      return ms >= HABIT_MS && sure
        ? [{ place: steps[at[0]!]!.place, ms: Math.round(ms), times: at.length, note: steps[at[0]!]!.note }]
        : [];
    })
    .sort((a, b) => b.ms * b.times - a.ms * a.times);
}

/** Tempo of the last third against the first, percent. */
function drift(pace: readonly number[]): number {
  const third = Math.max(2, Math.floor(pace.length / 3));
  return (median(pace.slice(0, third)) / median(pace.slice(-third)) - 1) * 100;
}

/** How much faster the last steps are than those before them, percent; null under {@link HURRY}. */
function hurry(pace: readonly number[]): number | null {
  if (pace.length < END_STEPS + FEWEST) return null;
  const before = median(pace.slice(-END_STEPS - 2 * AROUND, -END_STEPS));
  const share = 1 - mean(pace.slice(-END_STEPS)) / before;
  // All three are short: one early note is none of it.
  const all = pace.slice(-END_STEPS).every((p) => p < before * (1 - HURRY / 3));
  return share >= HURRY && all ? Math.round(share * 100) : null;
}

function loudness({ target, played, mark }: FactsOrder): (number | null)[] {
  const levels: (number | null)[] = target.map(() => null);
  for (const { targetIndex, playedIndex } of mark.verdicts)
    if (targetIndex !== null && playedIndex !== null)
      levels[targetIndex] = played[playedIndex]!.levelDb ?? null;
  const heard = levels.filter((level): level is number => level !== null);
  if (heard.length === 0) return levels;
  const middle = median([...heard]);
  return levels.map((level) => (level === null ? null : level - middle));
}

/** Notes just after a crossing against the mean of their neighbours, dB. */
function accent(order: FactsOrder, levels: readonly (number | null)[]): number | null {
  const found = levels.flatMap((level, i) => {
    const [before, after] = [levels[i - 1] ?? null, levels[i + 1] ?? null];
    if (level === null || before === null || after === null || placeAt(order, i).kind !== 'crossing')
      return [];
    return [level - (before + after) / 2];
  });
  return found.length >= FEWEST_CROSSINGS ? mean(found) : null;
}
