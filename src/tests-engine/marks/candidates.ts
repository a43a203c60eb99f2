import { Distribution } from './distribution.ts';
import { TUNING } from './rule.ts';
import { FREE_LEAD_SEC } from './tolerances.ts';
import type { Lists } from './search.ts';
import type { Transposition } from './types.ts';

/**
 * Likely tempos, keys and leads of a take; the alignment picks the kindest. Each candidate moves smoothly with every
 * note (equal slices of a distribution, not its peaks), so that the mark, a minimum over them, never jumps.
 */

/** Notes may answer each other within a third of the phrase, and within fourteen notes. */
const NEAR_SHARE = 0.35;
const NEAR_NOTES = 14;
/** Written notes looked at: longer lists are thinned out. */
const LOOKED_AT = 60;

/**
 * How far a written and a played note may answer each other, 0…1, from the places (0…1) where they stand in lists of
 * `n` and `m`: both lists stretched over each other, or as long as they are side by side from the start (a take that
 * stops early or was played twice) or from the end (one that joins in late).
 */
function nearness(n: number, m: number): (written: number, played: number) => number {
  const reach = Math.min(NEAR_SHARE, NEAR_NOTES / Math.max(n, m));
  const [a, b] = [Math.min(1, n / m), Math.min(1, m / n)];
  return (written, played) => {
    const stretched = Math.abs(written - played);
    const fromStart = Math.abs(a * written - b * played);
    const fromEnd = Math.abs(a * (1 - written) - b * (1 - played));
    const x = Math.min(stretched, fromStart, fromEnd) / reach;
    return x < 1 ? 1 - x * x : 0;
  };
}

/** Written and played distances are compared over one, two and three notes. */
const STEPS = 3;
/** A pair that spans as many notes on both sides is likelier to be the same one. */
const UNEQUAL = 0.3;
/** Tempos looked for, octaves either way of first-to-last: a take that stops after an eighth is still found. */
const RATE_OCTAVES = 3;
/** A slice is drawn to what lies within a ninth of it: the change of tempo that a duration may hold unpunished. */
const RATE_REACH = 0.15;

/**
 * Fastest tempo: targets come with a mean distance of onsets of 0.4 s, so that this is ten notes a second over a whole
 * phrase. Faster than that, a millisecond would count for more than it can be worth.
 */
const RATE_LEAST = 0.25;

/** Played seconds to a written second, fastest first. @param t written onsets, @param s played onsets, ascending */
export function rateCandidates(t: Float64Array, s: Float64Array, count: number): number[] {
  const n = t.length;
  const m = s.length;
  if (n < 2 || m < 2) return [1];
  const span = s[m - 1] - s[0];
  const whole = span / (t[n - 1] - t[0]);
  if (!(whole < Infinity)) return [1];
  if (!(span > 0)) return [RATE_LEAST];
  const near = nearness(n, m);
  const found = new Distribution(RATE_OCTAVES, 1 / 48);
  for (let i = 0; i < n; i += Math.ceil(n / LOOKED_AT))
    for (let j = 0; j < m; j++) {
      const w = near(i / (n - 1), j / (m - 1));
      if (w <= 0) continue;
      for (let a = 1; a <= STEPS && i + a < n; a++) {
        const written = (t[i + a] - t[i]) * whole;
        if (written <= 0) continue;
        for (let b = 1; b <= STEPS && j + b < m; b++) {
          const played = s[j + b] - s[j];
          // Weighed by its length: a short distance tells little of the tempo, and a millisecond moves it far.
          const weight =
            (w * near((i + a) / (n - 1), (j + b) / (m - 1)) * (a === b ? 1 : UNEQUAL) * played) / span;
          if (weight > 0) found.add(Math.log2(played / written), weight);
        }
      }
    }
  const rates = found.centred(count, RATE_REACH).map((x) => Math.max(RATE_LEAST, whole * 2 ** x));
  return rates.length ? rates : [Math.max(RATE_LEAST, whole)];
}

/** Octaves by which a take may lie off where octaves are allowed. */
const OCTAVES = [0, -1, 1, -2, 2, -3, 3];
/** Semitones: keys looked for either way of the mean, and what a slice is drawn to. */
const SHIFT_RANGE = 60;
const SHIFT_REACH = 1;
/** Tuning: a note a semitone off pulls most, one further off ever less. */
const TUNING_REACH = 1;
/** What speaks for no detuning at all: as much as one note, so that a semitone's slip is not taken for tuning. */
const ONE_NOTE = 1;

/** Places in a shorter take are shares of this: a millisecond must not move a note far. */
const PLACED_SEC = 0.4;

/** Where in its list each note stands, 0…1, by time: two notes that change places stay where they are. */
function placesOf(times: Float64Array): Float64Array {
  const span = Math.max(PLACED_SEC, times[times.length - 1] - times[0]);
  return times.map((x) => (x - times[0]) / span);
}

/** Semitones by which the take lies above the writing; pitches NaN where they do not count. */
export function shiftCandidates({ t, p, s, q }: Lists, allowed: Transposition, count: number): number[] {
  const [written, played] = [placesOf(t), placesOf(s)];
  const near = nearness(p.length, q.length);
  const stride = Math.ceil(p.length / LOOKED_AT);
  const pairs = (use: (d: number, w: number) => void): void => {
    for (let i = 0; i < p.length; i += stride)
      for (let j = 0; j < q.length; j++) {
        const w = near(written[i], played[j]);
        const d = q[j] - p[i];
        if (w > 0 && d === d) use(d, w * w);
      }
  };
  let mean = 0;
  if (allowed === 'any') {
    let sum = 0;
    pairs((d, w) => {
      mean += w * d;
      sum += w;
    });
    mean = sum > 0 ? mean / sum : 0;
  }
  const found = new Distribution(SHIFT_RANGE, 0.1);
  pairs((d, w) => found.add(d - mean, w));
  if (allowed === 'any') {
    const keys = found.centred(count, SHIFT_REACH).map((x) => x + mean);
    return keys.length ? keys : [0];
  }
  // The instrument's overall tuning, no further off than what is taken out.
  return (allowed === 'octave' ? OCTAVES : [0]).map((octave) => {
    const base = 12 * octave;
    const by = found.pull(base, TUNING_REACH, ONE_NOTE);
    return base + Math.max(-TUNING, Math.min(TUNING, by));
  });
}

/** Leads are tried so far apart: half of it is little beside the 40 ms and more that are free. */
const LEAD_APART_SEC = 0.02;

/**
 * Seconds by which the whole take may lie after the backing at no cost: inside what is free and what is unknown, none
 * first. Fixed ones: guesses drawn from the take could move against it and make a millisecond dearer.
 */
export function leadCandidates(latencySec: number): number[] {
  const leads = [0];
  for (let lead = LEAD_APART_SEC; lead <= FREE_LEAD_SEC + latencySec; lead += LEAD_APART_SEC) {
    leads.push(-lead);
    if (lead <= latencySec) leads.push(lead);
  }
  return leads;
}
