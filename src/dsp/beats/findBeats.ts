import type { Strength } from './strength.ts';

export interface FoundBeats {
  /** Crotchets (beats) a minute over the whole, of an even grid through all of it. */
  readonly bpm: number;
  /** Where the first bar begins, s. */
  readonly barOneSec: number;
  /** 0…1: share of the grid's beats near which the tracker had one too; under 0.6 the tempo is no even one. */
  readonly evenness: number;
  /** Beats as tracked, s. */
  readonly beats: readonly number[];
}

export interface BeatOrder {
  /** 2…12. */
  readonly beatsPerBar: number;
  /** A tempo that was tapped or is written: looked for within {@link AROUND_SHARE} of it. */
  readonly aroundBpm?: number;
  /** A place that was tapped as the first beat of bar 1: the nearest beat is taken. */
  readonly nearSec?: number;
}

/**
 * Beats by dynamic programming (Ellis 2007, "Beat Tracking by Dynamic Programming", J. New Music Research 36(1), 51–60):
 * the tempo from the autocorrelation of onset strength under a log-normal window around 0.5 s, the beats by the best path
 * with a penalty on log(gap / period)². Changed: an even grid is then laid through all beats, as a backing's tempo is
 * one nearly always; the first bar is found by low onsets and changes of harmony at the beats.
 */
const CENTRE_SEC = 0.5;
const OCTAVES = 0.9;
/** His α is 680 for onset strength of unit standard deviation at 250 Hz; the same weight here by trial on our backings. */
const TIGHTNESS = 400;
const SLOWEST_SEC = 60 / 40;
const FASTEST_SEC = 60 / 240;
export const AROUND_SHARE = 0.06;
/** The published measure's window for a beat that was found. */
const NEAR_SEC = 0.07;

/** Finds tempo and first bar of a recording; null where nothing begins often enough to be a beat. */
export function findBeats(strength: Strength, order: BeatOrder): FoundBeats | null {
  const { all, rate } = strength;
  if (all.length < 4 * rate || !all.some((v) => v > 0)) return null;
  const period = periodOf(all, rate, order.aroundBpm);
  const tracked = track(all, rate, period);
  if (tracked.length < 8) return null;
  const grid = gridOf(all, rate, tracked, order.aroundBpm);
  const near = (sec: number): boolean => {
    const k = Math.round((sec - grid.fromSec) / grid.periodSec);
    return Math.abs(sec - grid.fromSec - k * grid.periodSec) < NEAR_SEC;
  };
  const evenness = tracked.filter(near).length / tracked.length;
  return {
    bpm: 60 / grid.periodSec,
    barOneSec: firstBar(strength, grid, order),
    evenness,
    beats: tracked,
  };
}

/** Best period in frames. */
function periodOf(x: Float32Array, rate: number, aroundBpm?: number): number {
  const from = aroundBpm ? (60 / aroundBpm) * (1 - AROUND_SHARE) : FASTEST_SEC;
  const to = aroundBpm ? (60 / aroundBpm) * (1 + AROUND_SHARE) : SLOWEST_SEC;
  const longest = Math.ceil(to * rate * 4);
  const auto = new Float64Array(longest + 1);
  for (let lag = 0; lag <= longest && lag < x.length; lag++) {
    let sum = 0;
    for (let k = lag; k < x.length; k++) sum += x[k]! * x[k - lag]!;
    auto[lag] = sum / (x.length - lag);
  }
  const at = (lag: number): number => {
    const k = Math.floor(lag);
    return auto[k]! + ((auto[k + 1] ?? auto[k]!) - auto[k]!) * (lag - k);
  };
  let best = 0;
  let bestScore = -Infinity;
  for (let lag = from * rate; lag <= to * rate; lag += 0.25) {
    const octaves = Math.log2(lag / rate / CENTRE_SEC);
    const weight = aroundBpm ? 1 : Math.exp(-0.5 * (octaves / OCTAVES) ** 2);
    // Two and four beats on it fits too: a beat of a bar, not any repeated figure.
    const score = weight * (at(lag) + 0.5 * at(2 * lag) + 0.25 * at(4 * lag));
    if (score > bestScore) {
      bestScore = score;
      best = lag;
    }
  }
  return best;
}

/** Ellis's best path; times in seconds. */
function track(x: Float32Array, rate: number, period: number): number[] {
  const score = new Float64Array(x.length);
  const from = new Int32Array(x.length).fill(-1);
  const [near, far] = [Math.round(period / 2), Math.round(2 * period)];
  for (let k = 0; k < x.length; k++) {
    let best = 0;
    for (let back = near; back <= far && back <= k; back++) {
      const off = Math.log(back / period);
      const s = score[k - back]! - (TIGHTNESS / 100) * off * off;
      if (s > best) {
        best = s;
        from[k] = k - back;
      }
    }
    score[k] = x[k]! + best;
  }
  let end = x.length - 1;
  for (let k = Math.max(0, x.length - Math.round(period)); k < x.length; k++)
    if (score[k]! > score[end]!) end = k;
  const beats: number[] = [];
  for (let k = end; k >= 0; k = from[k]!) beats.push(k / rate);
  return beats.reverse();
}

interface Grid {
  readonly periodSec: number;
  /** Any beat of it. */
  readonly fromSec: number;
}

/** The even grid on which most onset strength lies, near the tracked beats' own tempo. */
function gridOf(x: Float32Array, rate: number, beats: readonly number[], aroundBpm?: number): Grid {
  const gaps = beats.slice(1).map((b, k) => b - beats[k]!);
  const middle = [...gaps].sort((a, b) => a - b)[gaps.length >> 1]!;
  const about = aroundBpm && Math.abs(60 / aroundBpm / middle - 1) > AROUND_SHARE ? 60 / aroundBpm : middle;
  const lengthSec = x.length / rate;
  const smooth = (at: number): number => {
    const k = at * rate;
    const i = Math.floor(k);
    return (x[i] ?? 0) + ((x[i + 1] ?? 0) - (x[i] ?? 0)) * (k - i);
  };
  let best: Grid = { periodSec: about, fromSec: beats[0]! };
  let bestSum = -Infinity;
  const look = (centre: number, share: number, steps: number, phases: readonly number[]): void => {
    for (let s = -steps; s <= steps; s++) {
      const periodSec = centre * (1 + (share * s) / steps);
      for (const from of phases) {
        let sum = 0;
        // Out from the middle, so that phase and period hang least on one another.
        for (let at = from; at < lengthSec; at += periodSec) sum += smooth(at);
        for (let at = from - periodSec; at >= 0; at -= periodSec) sum += smooth(at);
        if (sum > bestSum) {
          bestSum = sum;
          best = { periodSec, fromSec: from };
        }
      }
    }
  };
  const centre = lengthSec / 2;
  const phases = Array.from({ length: Math.ceil(about * rate) }, (_, k) => centre + k / rate);
  look(about, 0.025, Math.ceil((0.025 * lengthSec * rate) / about / 50) + 40, phases);
  const fine = Array.from({ length: 9 }, (_, k) => best.fromSec + (k - 4) / (4 * rate));
  look(best.periodSec, 0.002, 60, fine);
  return best;
}

/** Sound begins where a frame is within this of the loudest, dB. */
const SOUNDS_DB = -40;

/** Where bar 1 begins: the first beat of a bar at which there is sound, or the beat nearest to a tap. */
function firstBar(strength: Strength, { periodSec, fromSec }: Grid, order: BeatOrder): number {
  const { rate, level } = strength;
  if (order.nearSec !== undefined) {
    const k = Math.round((order.nearSec - fromSec) / periodSec);
    return fromSec + k * periodSec;
  }
  const loudest = level.reduce((a, b) => Math.max(a, b), 0);
  const first =
    Math.max(
      0,
      level.findIndex((v) => v > loudest * 10 ** (SOUNDS_DB / 20)),
    ) / rate;
  // The first beat at which there is sound: onsets lie up to half a window after their frame.
  const startK = Math.ceil((first - NEAR_SEC - fromSec) / periodSec);
  const beats: number[] = [];
  for (let k = startK; fromSec + k * periodSec < level.length / rate; k++)
    beats.push(fromSec + k * periodSec);
  const { beatsPerBar } = order;
  let best = 0;
  let bestScore = -Infinity;
  const novelty = beats.map((at) => change(strength, at, periodSec));
  const weights = beats.map((at) => peakNear(strength.low, at * rate, 0.03 * rate));
  const mean = (list: readonly number[]): number =>
    list.reduce((a, b) => a + b, 0) / Math.max(1, list.length);
  const [n0, w0] = [mean(novelty) || 1, mean(weights) || 1];
  for (let phase = 0; phase < beatsPerBar; phase++) {
    const here = (list: readonly number[]): number => mean(list.filter((_, k) => k % beatsPerBar === phase));
    // A piece begins with a bar far more often than with a pick-up in its backing.
    const score = 2 * (here(novelty) / n0) + here(weights) / w0 + (phase === 0 ? 0.3 : 0);
    if (score > bestScore) {
      bestScore = score;
      best = phase;
    }
  }
  return beats[best] ?? fromSec;
}

function peakNear(x: Float32Array, at: number, half: number): number {
  let most = 0;
  for (let k = Math.max(0, Math.floor(at - half)); k <= at + half && k < x.length; k++)
    most = Math.max(most, x[k]!);
  return most;
}

/** How much the harmony of the beat after `at` differs from that of the beat before: 1 − cosine. */
function change({ chroma, rate }: Strength, at: number, periodSec: number): number {
  const sum = (fromSec: number, toSec: number): Float64Array => {
    const out = new Float64Array(12);
    for (let k = Math.max(0, Math.round(fromSec * rate)); k < toSec * rate && k * 12 < chroma.length; k++)
      for (let c = 0; c < 12; c++) out[c]! += chroma[k * 12 + c]!;
    return out;
  };
  const a = sum(at - 0.9 * periodSec, at - 0.05);
  const b = sum(at + 0.02, at + 0.9 * periodSec);
  const dot = (u: Float64Array, v: Float64Array): number => u.reduce((s, x, k) => s + x * v[k]!, 0);
  const length = Math.sqrt(dot(a, a) * dot(b, b));
  return length > 0 ? 1 - dot(a, b) / length : 0;
}
