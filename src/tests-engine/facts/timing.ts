import type { Chart } from '../../music/chart.ts';
import { TICKS_PER_QUARTER, ticksToSec } from '../../music/units.ts';
import { middle } from '../../music/numbers.ts';
import { robustSpread, slope } from './statistics.ts';
import type { PlacedNote } from './types.ts';

export interface TimingFacts {
  /** Where the take as a whole lies against the beat, ms: behind is positive. */
  readonly biasMs: number | null;
  /** Robust spread about it, ms. */
  readonly spreadMs: number | null;
  /** Change of the bias over the pass, ms a minute. */
  readonly driftMsPerMinute: number | null;
  /**
   * Long to short of the pairs of quavers, the middle of all: 1 is straight, 2 triplets. As A. Friberg and A.
   * Sundström measure it ("Swing ratios and ensemble timing in jazz performance", Music Perception 19, 2002: 3.5 at slow, 1 at fast tempos).
   */
  readonly swingRatio: number | null;
  /** How many pairs that stands on. */
  readonly swingPairs: number;
}

/** An off-beat quaver lies in this part of its crotchet: from hurried straight to a ratio of 4. */
const OFF_BEAT = [0.42, 0.82] as const;
/** A note is on the beat within this share of a crotchet. */
const ON_BEAT = 0.12;

export function timingFacts(chart: Chart, notes: readonly PlacedNote[]): TimingFacts {
  const off = notes.map(({ offMs }) => offMs);
  const biasMs = middle(off);
  const perMs = slope(notes.map(({ note, offMs }) => [note.onsetSec, offMs]));
  const pairs = swingPairs(chart, notes, biasMs ?? 0);
  return {
    biasMs,
    spreadMs: robustSpread(off),
    driftMsPerMinute: perMs === null ? null : perMs * 60,
    swingRatio: middle(pairs),
    swingPairs: pairs.length,
  };
}

/** Long over short of each crotchet that holds a note on it and just one more, in the place of an off-beat quaver. */
function swingPairs({ tempoBpm }: Chart, notes: readonly PlacedNote[], biasMs: number): number[] {
  const crotchet = ticksToSec(TICKS_PER_QUARTER, tempoBpm);
  const at = notes.map(({ note }) => (note.onsetSec - biasMs / 1000) / crotchet);
  return at.flatMap((on, i) => {
    const beat = Math.round(on);
    const off = at[i + 1];
    if (Math.abs(on - beat) > ON_BEAT || off === undefined) return [];
    if (off - beat < OFF_BEAT[0] || off - beat > OFF_BEAT[1]) return [];
    const after = at[i + 2];
    // A third note inside the same crotchet is another figure.
    if (after !== undefined && after - beat < 1 - ON_BEAT) return [];
    const next = after !== undefined && Math.abs(after - beat - 1) <= ON_BEAT ? after : beat + 1;
    return [(off - on) / (next - off)];
  });
}
