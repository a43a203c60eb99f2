import type { Metre } from '../../../music/score.ts';

/**
 * The syncopation measure of Longuet-Higgins and Lee, "The rhythmic interpretation of monophonic music",
 * Music Perception 1 (1984) 424–441.
 *
 * Every point of the metrical tree has a weight: 0 at the bar's beginning, one less for each division at
 * which the point first appears. A note followed, before the next note, by a rest or tied point of equal or
 * greater weight is a syncopation; its strength is the greatest such weight minus the note's own.
 *
 * Differences: the paper looks at the tree's rest and tied nodes; here every grid point between two notes is
 * looked at, which gives the same maximum. Bars are joined, so a note held over a bar line meets the next
 * bar's weight 0. Points between the grid's (a triplet among semiquavers) get one less than the finest division.
 * Where beats are unequal (7/8) the groups are the first division, their units the second.
 */

/** Grid units to a crotchet: semiquavers; triplets fall between. */
const UNIT_TICKS = 120;

const cache = new WeakMap<Metre, readonly number[]>();

/** The weight of each semiquaver of a bar, 0 the strongest: 4/4 [0, −4, −3, −4, −2, −4, −3, −4, −1, …]. */
export function metricWeights(metre: Metre): readonly number[] {
  const known = cache.get(metre);
  if (known) return known;
  const unit = 16 / metre.beatUnit;
  const length = metre.beats * unit;
  const every = (step: number): number[] =>
    Array.from({ length: Math.ceil(length / step) }, (_, i) => i * step);
  const groups: number[] = [];
  let at = 0;
  for (const group of metre.grouping) {
    groups.push(at);
    at += group * unit;
  }
  // From the bar down: its halves where four equal groups pair up, its groups, its units, their halves.
  const divisions = [groups.length === 4 ? [groups[0]!, groups[2]!] : [], groups, every(unit)];
  for (let step = unit / 2; step >= 1; step /= 2) divisions.push(every(step));
  const weights = new Array<number>(length).fill(NaN);
  weights[0] = 0;
  let level = 0;
  for (const points of divisions) {
    const fresh = points.filter((point) => Number.isNaN(weights[point]));
    if (fresh.length > 0) level--;
    for (const point of fresh) weights[point] = level;
  }
  cache.set(metre, weights);
  return weights;
}

/**
 * Strength of each syncopation of a rhythm, in order; a note that is none is left out (strength 0 is one).
 * @param onsets ticks from the first bar line, rising; @param bars length of the phrase in bars: what follows
 * its end is taken as the next bar's first point, met by nothing.
 */
export function syncopations(onsets: readonly number[], metre: Metre, bars: number): number[] {
  const weights = metricWeights(metre);
  const length = weights.length;
  const end = length * bars;
  let finest = 0;
  for (const weight of weights) if (weight < finest) finest = weight;
  finest--;
  const found: number[] = [];
  for (let i = 0; i < onsets.length; i++) {
    const from = onsets[i]! / UNIT_TICKS;
    const until = Math.min(end, i + 1 < onsets.length ? onsets[i + 1]! / UNIT_TICKS : end);
    const own = Number.isInteger(from) ? weights[from % length]! : finest;
    let strongest = -Infinity;
    for (let unit = Math.floor(from) + 1; unit < until; unit++) {
      const weight = weights[unit % length]!;
      if (weight > strongest) strongest = weight;
    }
    if (strongest >= own) found.push(strongest - own);
  }
  return found;
}
