import type { Account, Answer } from './account.ts';
import { median, type Reading } from './search.ts';
import type { Advice, AdviceCode, Mark, NoteVerdict } from './types.ts';
import { round } from './verdicts.ts';

/** Everything the readings are made from. */
export interface Evidence {
  readonly reading: Reading;
  readonly account: Account;
  readonly verdicts: readonly NoteVerdict[];
  readonly timing: Mark['timing'];
  readonly clock: 'backing' | 'free';
  /** Beat of the target on the frame's clock, or null where it is not known. */
  readonly beatSec: number | null;
  readonly beatsPerBar: number | null;
  /** Written time of the frame's zero, seconds, for naming bars. */
  readonly zeroSec: number;
  /** Bias that costs nothing more, seconds. */
  readonly freeBiasSec: number;
  /** Semitones taken out of the whole take because they cost nothing. */
}

interface Weighed extends Advice {
  /** Points lost to it: the order of telling. */
  readonly points: number;
}

/** A moved pulse is worth a word from a quarter of a beat. */
const SHIFT_BEATS = 0.25;
/** Notes in a row that make a stretch. */
const STRETCH = 2;
/** Left out at an end: from here it is a stop, not a missed note. */
const STOP_NOTES = 2;
/** Even, but off the beat by more than twice the free lead. */
const UNEVEN_MS = 35;
const DRIFT_PERCENT = 6;

export function readings(ev: Evidence): Weighed[] {
  const found: Weighed[] = [];
  const say = (code: AdviceCode, points: number, values: Advice['values'] = {}): void => {
    found.push({ code, points, values });
  };
  const { answers } = ev.account;
  const place = (i: number): Record<string, number> => placeOf(ev, i);
  const n = ev.reading.frame.t.length;
  const explained = new Set<Answer>();
  pitchReadings(ev, say, explained);
  const shifted = timeReadings(ev, say, explained);
  ends(ev, say);
  for (let k = 0; k < answers.length; k++)
    if (answers[k].restart) {
      const back = answers[k].i;
      let again = 0;
      while (k + again < answers.length && answers[k + again].i <= answers[k - 1].i) again++;
      say('restarted', 0.5 + again, { ...place(back), count: again });
    }
  const of = (kind: NoteVerdict['kind']): NoteVerdict[] => ev.verdicts.filter((v) => v.kind === kind);
  const wrong = of('wrong');
  const first = (list: readonly NoteVerdict[]): Record<string, number> => place(list[0].targetIndex ?? 0);
  if (wrong.length > n / 2) say('many-wrong-notes', wrong.length, { count: wrong.length, of: n });
  else if (wrong.length === 1)
    say(
      isOctave(wrong[0].errorSemitones) ? 'octave-slip' : 'wrong-note',
      0.65,
      isOctave(wrong[0].errorSemitones)
        ? { ...first(wrong), octaves: Math.round(wrong[0].errorSemitones! / 12) }
        : { ...first(wrong), semitones: wholeOf(wrong[0].errorSemitones!) },
    );
  else if (wrong.length > 1)
    say('wrong-notes', 0.65 * wrong.length, { ...first(wrong), count: wrong.length });
  const { missedInside } = gaps(ev);
  if (missedInside.length === 1) say('missed-note', 1, place(missedInside[0]));
  else if (missedInside.length > 1)
    say('missed-notes', missedInside.length, { ...place(missedInside[0]), count: missedInside.length });
  const extras = of('extra').filter((v) => !v.repeated);
  if (extras.length === 1) {
    const at = ev.verdicts.indexOf(extras[0]);
    const before = ev.verdicts.slice(0, at).findLast((v) => v.targetIndex !== null);
    say('extra-note', 0.6, place(before?.targetIndex ?? 0));
  } else if (extras.length > 1) say('extra-notes', 0.6 * extras.length, { count: extras.length });
  if (!shifted) offBeat(ev, say, of('early'), of('late'));
  const unclear = ev.verdicts.filter((v) => v.unclear).length;
  if (unclear > 0) say('unclear', 0.1 * unclear, { count: unclear });
  return found.sort((a, b) => b.points - a.points);
}

type Say = (code: AdviceCode, points: number, values?: Advice['values']) => void;

const isOctave = (d: number | null): boolean =>
  d !== null && Math.abs(d) > 6 && Math.abs(d - 12 * Math.round(d / 12)) <= 0.5;
const wholeOf = (d: number): number => Math.round(d) || Math.sign(d);

function placeOf(ev: Evidence, i: number): Record<string, number> {
  if (ev.beatSec === null) return { note: i + 1 };
  const beats = (ev.reading.frame.t[i] + ev.zeroSec) / ev.beatSec + 1e-3;
  const perBar = ev.beatsPerBar ?? 4;
  const bar = Math.floor(beats / perBar);
  return { note: i + 1, bar: bar + 1, beat: Math.floor(beats - bar * perBar) + 1 };
}

/** The whole take, or all from a note on, transposed. */
function pitchReadings(ev: Evidence, say: Say, explained: Set<Answer>): void {
  const pitched = ev.account.answers.filter((a) => !Number.isNaN(a.d));
  if (pitched.length < 3) return;
  const tail = constantTail(
    pitched.map((a) => a.d),
    0.6,
  );
  const by = median(pitched.slice(tail).map((a) => a.d));
  const length = pitched.length - tail;
  if (Math.abs(by) < 0.7 || length < Math.max(3, pitched.length * 0.3)) return;
  for (const a of pitched.slice(tail)) explained.add(a);
  const points = pitched.slice(tail).reduce((sum, a) => sum + a.notes, 0);
  if (tail > 0 && pitched.slice(0, tail).some((a) => Math.abs(a.d) <= 0.5))
    say('moved-pitch', points, { ...placeOf(ev, pitched[tail].i), semitones: wholeOf(by) });
  else if (isOctave(by)) say('octave-off', points, { octaves: Math.round(by / 12) });
  else say('wrong-start', points, { semitones: wholeOf(by) });
}

/** Start of the longest run at the end in which every value stays within `edge` of the run's median. */
function constantTail(values: readonly number[], edge: number): number {
  const mid = median(values.slice(-3));
  let from = values.length;
  while (from > 0 && Math.abs(values[from - 1] - mid) <= edge) from--;
  return from;
}

interface Run {
  readonly from: number;
  readonly to: number;
  readonly e: number;
}
/** Stretches of answers that keep step with one another. */
function runs(ev: Evidence): Run[] {
  const { answers } = ev.account;
  const found: Run[] = [];
  let from = 0;
  for (let k = 1; k <= answers.length; k++) {
    const tol = k < answers.length ? Math.max(0.08, ev.reading.frame.tol[answers[k].i] * 1.5) : 0;
    if (k < answers.length && Math.abs(answers[k].e - median(answers.slice(from, k).map((a) => a.e))) <= tol)
      continue;
    found.push({ from, to: k - 1, e: median(answers.slice(from, k).map((a) => a.e)) });
    from = k;
  }
  return found;
}

/** Displaced passages. True when one explains the take's timing. */
function timeReadings(ev: Evidence, say: Say, explained: Set<Answer>): boolean {
  const { answers } = ev.account;
  if (answers.length < 3) return false;
  const beat = ev.beatSec;
  const big = beat === null ? 0.15 : beat * SHIFT_BEATS;
  const amount = (e: number): Record<string, number> =>
    beat === null ? { ms: Math.abs(round(e * 1000, 1)) } : { beats: Math.abs(round(e / beat, 4)) };
  const all = runs(ev);
  const cost = (r: Run): number =>
    answers.slice(r.from, r.to + 1).reduce((sum, a) => sum + a.rhythm + a.pulse, 0);
  let told = false;
  const free = ev.clock === 'free';
  let base = free ? all[0].e : 0;
  for (let k = 0; k < all.length; k++) {
    const r = all[k];
    const length = r.to - r.from + 1;
    const off = r.e - base;
    if (Math.abs(off) < big) continue;
    const late = off > 0;
    const rest = answers.slice(r.from);
    const toEnd = rest.filter((a) => Math.abs(a.e - base - off) < big).length >= 0.75 * rest.length;
    const at = placeOf(ev, answers[r.from].i);
    if (answers[r.from].restart || answers.slice(0, r.from + 1).some((a) => a.restart)) {
      told = true;
      break;
    }
    if (toEnd && length >= STRETCH) {
      const points = cost({ ...r, to: answers.length - 1 });
      if (k === 0 && !free) say(late ? 'came-in-late' : 'came-in-early', points, amount(off));
      else if (free) say(late ? 'paused' : 'shifted-early', points, { ...at, ...amount(off) });
      else say(late ? 'shifted-late' : 'shifted-early', points, { ...at, ...amount(off) });
      for (const a of answers.slice(r.from)) explained.add(a);
      return true;
    }
    // Displaced for a while: until it is back.
    let back = k + 1;
    while (back < all.length && Math.abs(all[back].e - base) >= big && all[back].e > base === late) back++;
    const until = back < all.length ? all[back].from : answers.length;
    const count = until - r.from;
    if (count < STRETCH && back >= all.length) continue;
    const points = cost({ ...r, to: until - 1 });
    const catchingUp =
      late && back - k >= 2 && all.slice(k, back).every((x, o, a) => o === 0 || x.e < a[o - 1].e);
    if (catchingUp || (late && count <= 2 && back < all.length))
      say('hesitated', points, { ...at, ...amount(off) });
    else if (count >= STRETCH)
      say(late ? 'stretch-late' : 'stretch-early', points, { ...at, count, ...amount(off) });
    else continue;
    for (const a of answers.slice(r.from, until)) explained.add(a);
    told = true;
    k = back - 1;
    if (free) base = all[Math.min(back, all.length - 1)].e;
  }
  return told;
}

function gaps(ev: Evidence): { first: number; last: number; missedInside: number[] } {
  const answered = ev.account.answers.map((a) => a.i);
  const first = answered.length ? Math.min(...answered) : 0;
  const last = answered.length ? Math.max(...answered) : -1;
  const n = ev.reading.frame.t.length;
  const missed = ev.verdicts.filter((v) => v.kind === 'missed').map((v) => v.targetIndex!);
  return {
    first,
    last,
    missedInside: missed.filter(
      (i) => !(i > last && n - 1 - last >= STOP_NOTES) && !(i < first && first >= STOP_NOTES),
    ),
  };
}

function ends(ev: Evidence, say: Say): void {
  if (ev.account.answers.length === 0) return;
  const { first, last } = gaps(ev);
  const left = ev.reading.frame.t.length - 1 - last;
  if (left >= STOP_NOTES) say('stopped', left, { ...placeOf(ev, last), count: left });
  if (first >= STOP_NOTES) say('joined-late', first, { ...placeOf(ev, first), count: first });
}

/** Timing that is not a displaced passage. */
function offBeat(ev: Evidence, say: Say, early: readonly NoteVerdict[], late: readonly NoteVerdict[]): void {
  const { biasMs, unevennessMs, driftPercent } = ev.timing;
  const { answers, parts } = ev.account;
  const lost = parts.rhythm + parts.pulse;
  const off = early.length + late.length;
  const n = ev.reading.frame.t.length;
  if (driftPercent !== null && Math.abs(driftPercent) >= DRIFT_PERCENT && lost > 0)
    say(driftPercent > 0 ? 'speeding-up' : 'slowing-down', Math.max(lost * 0.6, 0.2), {
      percent: Math.abs(round(driftPercent, 1)),
    });
  if (off === 0) {
    if (lost > 0.3 && unevennessMs !== null && unevennessMs >= UNEVEN_MS)
      say('uneven', lost, { ms: round(unevennessMs, 1) });
    return;
  }
  const even = unevennessMs !== null && unevennessMs < UNEVEN_MS;
  if (ev.clock === 'backing' && biasMs !== null && even && off >= answers.length / 2) {
    say(biasMs > 0 ? 'steady-late' : 'steady-early', lost, { ms: Math.abs(round(biasMs, 1)) });
    return;
  }
  if (off >= 3 && off >= 0.4 * n && early.length > 0 && late.length > 0) {
    say(lost > off * 0.3 ? 'wrong-rhythm' : 'uneven', lost, {
      count: off,
      of: n,
      ms: round(unevennessMs ?? 0, 1),
    });
    return;
  }
  for (const [list, one, many] of [
    [early, 'note-early', 'notes-early'],
    [late, 'note-late', 'notes-late'],
  ] as const) {
    if (list.length === 0) continue;
    const share = (lost * list.length) / off;
    const at = placeOf(ev, list[0].targetIndex!);
    if (list.length === 1) say(one, share, { ...at, ms: Math.abs(round(list[0].errorMs!, 1)) });
    else say(many, share, { ...at, count: list.length });
  }
}
