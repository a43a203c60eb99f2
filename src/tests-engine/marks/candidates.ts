/** Likely tempos and keys of a take, found by voting over pairs of notes; the alignment picks among them. */

/** Places within a third of the phrase of each other may answer each other. */
const NEAR = 0.35;
const RATE_STEPS_PER_OCTAVE = 24;
/** Either way from first-to-last: a take that stops after an eighth of the phrase is still found. */
const RATE_OCTAVES = 3;

function peaks(votes: Float64Array, count: number, apart: number): number[] {
  const smooth = votes.map((v, k) => v * 2 + (votes[k - 1] ?? 0) + (votes[k + 1] ?? 0));
  const found: number[] = [];
  while (found.length < count) {
    let top = -1;
    for (let k = 0; k < smooth.length; k++)
      if (
        smooth[k] > 0 &&
        (top < 0 || smooth[k] > smooth[top]) &&
        found.every((f) => Math.abs(f - k) > apart)
      )
        top = k;
    if (top < 0) break;
    found.push(top);
  }
  return found.map((k) => {
    let sum = 0;
    let mean = 0;
    for (let o = -1; o <= 1; o++) {
      sum += votes[k + o] ?? 0;
      mean += o * (votes[k + o] ?? 0);
    }
    return k + (sum > 0 ? mean / sum : 0);
  });
}

/** Shares a vote between the two nearest bins, so that no vote jumps. */
function vote(votes: Float64Array, at: number, weight: number): void {
  const low = Math.floor(at);
  if (low < 0 || low + 1 >= votes.length) return;
  votes[low] += weight * (low + 1 - at);
  votes[low + 1] += weight * (at - low);
}

function near(i: number, n: number, j: number, m: number): number {
  const x = (i / Math.max(1, n - 1) - j / Math.max(1, m - 1)) / NEAR;
  return x * x < 1 ? 1 - x * x : 0;
}

/**
 * Played seconds to a written second, likeliest first.
 *
 * @param t written onsets, @param s played onsets, ascending; @param p, @param q their pitches or NaN
 */
export function rateCandidates(
  t: Float64Array,
  p: Float64Array,
  s: Float64Array,
  q: Float64Array,
  count: number,
): number[] {
  const n = t.length;
  const m = s.length;
  if (n < 2 || m < 2) return [1];
  const span = (s[m - 1] - s[0]) / (t[n - 1] - t[0]);
  if (!(span > 0)) return [1];
  const half = Math.round(RATE_OCTAVES * RATE_STEPS_PER_OCTAVE);
  const votes = new Float64Array(2 * half + 1);
  for (let step = 1; step <= 2; step++)
    for (let i = 0; i + step < n; i++) {
      const written = t[i + step] - t[i];
      if (written <= 0) continue;
      for (let played = 1; played <= 2; played++)
        for (let j = 0; j + played < m; j++) {
          const w = near(i, n, j, m);
          if (w <= 0) continue;
          const ratio = (s[j + played] - s[j]) / written / span;
          if (ratio <= 0) continue;
          const tune = Math.abs(q[j + played] - q[j] - (p[i + step] - p[i])) < 0.7 ? 4 : 1;
          vote(
            votes,
            Math.log2(ratio) * RATE_STEPS_PER_OCTAVE + half,
            w * tune * (played === step ? 1 : 0.3),
          );
        }
    }
  const found = peaks(votes, count, 3).map((k) => span * 2 ** ((k - half) / RATE_STEPS_PER_OCTAVE));
  return [span, ...found];
}

const PITCH_STEPS = 4;
const PITCH_RANGE = 60;
/** Semitones by which the take lies above the writing, likeliest first. */
export function shiftCandidates(
  p: Float64Array,
  q: Float64Array,
  allowed: 'none' | 'octave' | 'any',
  count: number,
): number[] {
  const n = p.length;
  const m = q.length;
  const half = PITCH_RANGE * PITCH_STEPS;
  const votes = new Float64Array(2 * half + 1);
  let voted = false;
  for (let i = 0; i < n; i++)
    for (let j = 0; j < m; j++) {
      const d = q[j] - p[i];
      if (!(Math.abs(d) < PITCH_RANGE)) continue;
      vote(votes, d * PITCH_STEPS + half, near(i, n, j, m));
      voted = true;
    }
  if (!voted || allowed === 'none') return [0];
  if (allowed === 'any') return peaks(votes, count, 3).map((k) => (k - half) / PITCH_STEPS);
  const octaves: { shift: number; votes: number }[] = [];
  for (let o = -4; o <= 4; o++) {
    let sum = 0;
    for (let k = -2; k <= 2; k++) sum += votes[half + o * 12 * PITCH_STEPS + k] ?? 0;
    if (sum > 0) octaves.push({ shift: 12 * o, votes: sum });
  }
  if (octaves.length === 0) return [0];
  return octaves
    .sort((a, b) => b.votes - a.votes)
    .slice(0, count)
    .map((o) => o.shift);
}
