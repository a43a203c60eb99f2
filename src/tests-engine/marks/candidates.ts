import { TUNING, type Rule } from './rule.ts';
import type { Lists } from './placed.ts';
import type { Transposition } from './types.ts';

/**
 * Tempos and keys that are offered, of which the alignment picks the kindest. They stand at fixed distances,
 * from a middle that a millisecond or a cent on one note hardly moves, so that the mark, a minimum over them, is as
 * smooth as the mark in one of them.
 */

/** Tempos so far apart, octaves: half of it, 3 %, is little beside the 12.5 % of a duration that are free. */
const TEMPO_APART = 1 / 12;
/** Octaves either way of the mean distance of onsets: a take with a long stop, or with every other note, is still found. */
const TEMPO_OCTAVES = 2;
/**
 * Fastest tempo: targets come with a mean distance of onsets of 0.4 s, so that this is ten notes a second over a whole
 * phrase. Faster than that, a millisecond would count for more than it can be worth.
 */
const RATE_LEAST = 0.25;

/** By the mean distance of onsets. */
function tempoOf(t: Float64Array, s: Float64Array): number {
  const [n, m] = [t.length, s.length];
  if (n < 2 || m < 2) return 1;
  const rate = ((s[m - 1]! - s[0]!) * (n - 1)) / ((m - 1) * (t[n - 1]! - t[0]!));
  return rate < Infinity ? Math.max(RATE_LEAST, rate) : 1;
}

/**
 * Longer lists tell their mean tempo and key the better, and each reading of them takes longer: from this many notes
 * on less far is looked, down to one step either way.
 */
const LONG_NOTES = 25;
const reachOf = (written: number, played: number): number =>
  Math.max(1 / 32, Math.min(1, LONG_NOTES / Math.sqrt(written * played)));

/** Played seconds to a written second, fastest first. @param t written onsets, @param s played onsets, ascending */
export function tempos(t: Float64Array, s: Float64Array): number[] {
  const middle = tempoOf(t, s);
  const each = Math.round((reachOf(t.length, s.length) * TEMPO_OCTAVES) / TEMPO_APART);
  return Array.from({ length: 2 * each + 1 }, (_, k) =>
    Math.max(RATE_LEAST, middle * 2 ** ((k - each) * TEMPO_APART)),
  );
}

/** Octaves by which a take may lie off where octaves are allowed, likeliest first. */
const OCTAVES = [0, -1, 1, -2, 2, -3, 3];
/** Keys so far apart, semitones: half of it is little beside the 0.3 that are free. */
const KEY_APART = 0.25;
/** Semitones either way of the mean where any key is allowed. */
const KEY_RANGE = 8;

/** Semitones by which the take may lie above the writing at no cost, ascending. */
export function keysOf(lists: Lists, rule: Rule, allowed: Transposition): number[] {
  if (!(rule.pitch > 0)) return [0];
  const { p, q } = lists;
  if (allowed === 'any') {
    const by = mean(q) - mean(p);
    const each = Math.round((reachOf(p.length, q.length) * KEY_RANGE) / KEY_APART);
    return Array.from({ length: 2 * each + 1 }, (_, k) => by + (k - each) * KEY_APART);
  }
  const octaves = allowed === 'octave' ? OCTAVES : [0];
  return octaves.map((octave) => 12 * octave + tuning(lists, 12 * octave)).sort((x, y) => x - y);
}

function mean(pitches: Float64Array): number {
  let [sum, count] = [0, 0];
  for (const x of pitches)
    if (x === x) {
      sum += x;
      count++;
    }
  return count ? sum / count : 0;
}

/** A note speaks for a tuning by the written ones within a third of the phrase of it, and half for a semitone off. */
const NEAR_SHARE = 0.35;
/** What speaks for no detuning at all: as much as one note, so that a semitone's slip is not taken for tuning. */
const ONE_NOTE = 1;
/** Places in a shorter take are shares of this: a millisecond must not move a note far. */
const PLACED_SEC = 0.4;
/** Written notes looked at: longer lists are thinned out. */
const LOOKED_AT = 60;

/** Where in its list each note stands, 0…1, by time: two notes that change places stay where they are. */
function placesOf(times: Float64Array): Float64Array {
  const span = Math.max(PLACED_SEC, times[times.length - 1]! - times[0]!);
  return times.map((x) => (x - times[0]!) / span);
}

/**
 * The instrument's overall tuning around `base` semitones, no further off than what is taken out: a mean that moves
 * smoothly with every note, far notes let go gently.
 */
function tuning({ t, p, s, q }: Lists, base: number): number {
  const [written, played] = [placesOf(t), placesOf(s)];
  const stride = Math.ceil(p.length / LOOKED_AT);
  let [sum, pull] = [ONE_NOTE, 0];
  for (let i = 0; i < p.length; i += stride)
    for (let j = 0; j < q.length; j++) {
      const x = (written[i]! - played[j]!) / NEAR_SHARE;
      const d = q[j]! - p[i]! - base;
      if (x <= -1 || x >= 1 || d !== d) continue;
      const w = (1 - x * x) ** 2 / (1 + d * d);
      sum += w;
      pull += w * d;
    }
  return Math.max(-TUNING, Math.min(TUNING, pull / sum));
}
