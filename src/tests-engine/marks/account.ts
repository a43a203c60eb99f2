import { pitchShare, ramp, stepShare, WINDOW } from './cost.ts';
import { restartPrice, type Rule } from './rule.ts';
import type { Reading } from './placed.ts';
import type { PartName } from './types.ts';

/** Left out at an end: two notes or more are a stop (or a late entry), one is a missed note. */
export const STOP_NOTES = 2;

/** What one answered note cost, in points, and how it was judged. */
export interface Answer {
  readonly i: number;
  readonly j: number;
  /** Off the beat (own tempo: off the one straight tempo that fits best), seconds on the target's clock; + is late. */
  readonly e: number;
  /** Off the written pitch, semitones; NaN where pitch does not count. */
  readonly d: number;
  readonly restart: boolean;
  /** Judged against the note before it: keeps step in time, in pitch. */
  readonly inStep: boolean;
  readonly inTune: boolean;
  /** Time and pitch error by which it was judged (its own, or against the note before it), and the limit of the first. */
  readonly timeError: number;
  readonly pitchError: number;
  readonly timeLimit: number;
  readonly rhythm: number;
  readonly pulse: number;
  readonly notes: number;
}

export interface Account {
  readonly answers: readonly Answer[];
  readonly parts: Readonly<Record<PartName, number>>;
}

/** Splits the points of a reading into what they were lost for; the parts add up to `reading.cost`. */
export function account(reading: Reading, rule: Rule): Account {
  const { frame, matches, straight } = reading;
  const { t, p, s, q, tol, width, extra, trust, beat } = frame;
  const { time } = rule;
  const kept = beat ? rule.displaced : 0;
  const answers: Answer[] = [];
  // A lead that lies beside the take's own centre is time as well.
  const parts = { notes: 0, rhythm: reading.toll, pulse: 0, continuity: 0 };
  let before: Answer | null = null;
  for (const { i, j, source, restart } of matches) {
    const off = s[j]! - t[i]!;
    const e = straight ? (s[j]! - straight.start) / straight.rate - t[i]! : off;
    const d = q[source]! - p[i]!;
    const wp = d === d ? rule.pitch * trust[source]! : 0;
    const first = before === null || restart;
    let rhythm = beat ? time * ramp(off, tol[i]!, width[i]!) : first ? 0 : time;
    let pulse = 0;
    let notes = wp > 0 ? wp * pitchShare(d, 0) : 0;
    let [inStep, inTune] = [false, false];
    let [timeError, timeLimit, pitchError] = [e, tol[i]!, d];
    if (restart) {
      parts.continuity += restartPrice(rule);
      if (kept < rhythm) [rhythm, pulse, inStep, timeError] = [0, kept, true, 0];
    } else if (before && i - before.i <= WINDOW) {
      const step = off - (s[before.j]! - t[before.i]!);
      const moved = (time - kept) * stepShare(frame, i, before.i, step);
      if (kept + moved < rhythm) {
        [rhythm, pulse] = [moved, kept];
        // Own tempo: one late note spoils two durations, but is one late note: the kinder of both is said, and both by
        // the take's own straight tempo.
        const free = frame.stepFree[i * WINDOW + i - before.i - 1]!;
        const said = beat ? step : e - before.e;
        if (beat || Math.abs(said) / free < Math.abs(e) / tol[i]!)
          [inStep, timeError, timeLimit] = [true, said, free];
      }
      if (notes > 0) {
        const rel = wp * (rule.pitchShift + (1 - rule.pitchShift) * pitchShare(d - before.d, 0));
        // An octave off costs the same either way: in step reads better than wrong.
        if (rel < notes || (rel === notes && Math.abs(d - before.d) < 0.5))
          [notes, inTune, pitchError] = [rel, true, d - before.d];
      }
    }
    const answer: Answer = {
      i,
      j,
      e,
      d,
      restart,
      inStep,
      inTune,
      timeError,
      pitchError,
      timeLimit,
      rhythm,
      pulse,
      notes,
    };
    // The right pitch, struck a little before or after.
    parts.rhythm += Math.abs(s[source]! - s[j]!) * frame.borrow;
    answers.push(answer);
    before = answer;
  }
  // A step that the next notes keep is a broken pulse; one that they undo is a wrong rhythm.
  for (const [k, a] of answers.entries()) {
    const next = answers[k + 1];
    if (next === undefined) break;
    const kept = beat ? next.inStep && Math.abs(next.timeError) <= tol[next.i]! : next.rhythm === 0;
    if (a.rhythm > 0 && kept) answers[k] = { ...a, rhythm: 0, pulse: a.pulse + a.rhythm };
  }
  for (const a of answers) {
    parts.rhythm += a.rhythm;
    parts.pulse += a.pulse;
    parts.notes += a.notes;
  }
  const answered = new Set(matches.map((m) => m.i));
  const used = new Set(matches.map((m) => m.j));
  const n = t.length;
  const ahead = matches.length ? Math.min(...answered) : 0;
  const behind = matches.length ? n - 1 - Math.max(...answered) : n;
  const first = ahead >= STOP_NOTES ? ahead : 0;
  const last = behind >= STOP_NOTES ? n - 1 - behind : n;
  // Written notes jumped over count each time they are jumped over, as in the alignment.
  let from = -1;
  for (const m of matches) {
    const low = m.restart ? m.i : from + 1;
    for (let i = low; i < m.i; i++) parts[i < first ? 'continuity' : 'notes'] += rule.missed;
    from = m.i;
  }
  for (let i = from + 1; i < n; i++) parts[i > last ? 'continuity' : 'notes'] += rule.missed;
  for (let j = 0; j < s.length; j++) if (!used.has(j)) parts.notes += extra[j]!;
  return { answers, parts };
}
