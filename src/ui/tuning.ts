/** The tuning of open strings, answered by playing them in any order. */
export interface Tuned {
  /** The string now heard, 0 = lowest; null in silence. */
  readonly string: number | null;
  readonly cents: number | null;
  readonly steadySinceMs: number | null;
  /** Strings that have been in tune. */
  readonly done: readonly number[];
}

/** The open string nearest to a sounding pitch, and how far it is from it. */
export interface NearString {
  readonly index: number;
  readonly cents: number;
}

/** A string may be this far out and still be meant: half a step to either side. */
const MEANT_CENTS = 100;
/** In tune: a listener's limen for a single tone is about 5 cents (Moore, 1973, at mid frequencies). */
export const IN_TUNE_CENTS = 5;
/** Steady for this long: past the pluck's own glide. */
const STEADY_MS = 350;

export function nearestString(strings: readonly number[], midi: number): NearString | null {
  let best: NearString | null = null;
  strings.forEach((open, index) => {
    const cents = (midi - open) * 100;
    if (Math.abs(cents) <= MEANT_CENTS && (!best || Math.abs(cents) < Math.abs(best.cents)))
      best = { index, cents };
  });
  return best;
}

/** Takes in what the tuner heard. */
export function tuned(before: Tuned, near: NearString | null, nowMs: number): Tuned {
  if (!near) return { ...before, steadySinceMs: null };
  const inTune = Math.abs(near.cents) <= IN_TUNE_CENTS;
  const same = before.string === near.index && before.steadySinceMs !== null;
  const steadySinceMs = inTune ? (same ? before.steadySinceMs : nowMs) : null;
  const done =
    steadySinceMs !== null && nowMs - steadySinceMs >= STEADY_MS && !before.done.includes(near.index)
      ? [...before.done, near.index]
      : before.done;
  return { string: near.index, cents: near.cents, steadySinceMs, done };
}
