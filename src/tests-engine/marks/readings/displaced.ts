import type { Answer } from '../account.ts';
import { median } from '../../../music/numbers.ts';
import { round } from '../verdicts.ts';
import { DRIFT_PERCENT } from './beat.ts';
import { type Evidence, placeOf, type Sayings } from './evidence.ts';

/** A displaced passage is worth a word from a quarter of a beat, or 150 ms where the beat is not known. */
const WORTH_BEATS = 0.25;
const WORTH_SEC = 0.15;
/** A step of this share of that, and of this share of the time since the note before, begins a new run. */
const STEP_SHARE = 0.7;
const STEP_OF_GAP = 0.25;
/** The share of notes in other places that makes it another rhythm. */
const FAR_SHARE = 0.25;
/** Notes in a row that make a passage. */
const PASSAGE = 2;

/** Times that make it one: two could be a stretch. */
const CUT_SHORT = 3;

/** The pulse is felt over up to this many notes. */
const PULSE_REACH = 3;

/** Answers from index `from` to before `to` that keep step with one another, `e` seconds off the beat. */
interface Run {
  readonly from: number;
  readonly to: number;
  readonly e: number;
}

/** Seconds off the beat of each answer; at one's own tempo off the pulse that most steps keep. */
function offsets(ev: Evidence): number[] {
  const { answers } = ev.account;
  if (ev.clock === 'backing') return answers.map((a) => a.e);
  const { t, s } = ev.reading.frame;
  const ratios: number[] = [];
  for (const [k, now] of answers.entries())
    for (const past of answers.slice(Math.max(0, k - PULSE_REACH), k)) {
      const written = t[now.i]! - t[past.i]!;
      if (written > 0) ratios.push((s[now.j]! - s[past.j]!) / written);
    }
  // All struck at one instant: no pulse.
  const pulse = (ratios.length ? median(ratios) : 0) || 1;
  return answers.map((a) => s[a.j]! / pulse - t[a.i]!);
}

function runsOf(e: readonly number[], due: readonly number[], step: number): Run[] {
  const steps = (k: number): boolean =>
    Math.abs(e[k]! - e[k - 1]!) >= Math.max(step, STEP_OF_GAP * Math.abs(due[k]! - due[k - 1]!));
  const starts = e.flatMap((_, k) => (k === 0 || steps(k) ? [k] : []));
  return starts.map((from, k) => {
    const to = starts[k + 1] ?? e.length;
    return { from, to, e: median(e.slice(from, to)) };
  });
}

/** Passages that keep step but lie beside the beat, hesitations, and the right notes in another rhythm. */
export function displaced(ev: Evidence, out: Sayings): void {
  const { answers } = ev.account;
  if (answers.length < 3) return;
  const beat = ev.beatSec;
  const worth = beat === null ? WORTH_SEC : Math.max(0.1, beat * WORTH_BEATS);
  const e = offsets(ev);
  const runs = runsOf(
    e,
    answers.map((a) => ev.reading.frame.t[a.i]!),
    worth * STEP_SHARE,
  );
  const cost = (list: readonly Answer[]): number => list.reduce((sum, a) => sum + a.rhythm + a.pulse, 0);
  const amount = (x: number): Record<string, number> =>
    beat === null ? { ms: Math.abs(round(x * 1000, 1)) } : { beats: Math.abs(round(x / beat, 4)) };
  const tell = (list: readonly Answer[]): void => list.forEach((a) => out.timingExplained.add(a));

  const off = answers.filter((a) => Math.abs(a.timeError) > a.timeLimit).length;
  const far = answers.filter((a) => Math.abs(a.timeError) >= worth).length;
  const free = ev.clock === 'free';
  // At one's own tempo long notes cut short again and again are a rhythm, not a shift.
  const cut = runs.filter((run, k) => run.e < (runs[k - 1]?.e ?? -Infinity)).length >= CUT_SHORT;
  const scattered = answers.length < PASSAGE * runs.length && far >= FAR_SHARE * answers.length;
  if (runs.length >= 4 && (scattered || (free && cut))) {
    tell(answers);
    out.say('wrong-rhythm', cost(answers), {
      count: off,
      of: ev.reading.frame.t.length,
      ms: round(ev.timing.unevennessMs ?? 0, 1),
    });
    return;
  }
  // One run that drifts is a change of tempo, told elsewhere.
  if (runs.length === 1 && Math.abs(ev.timing.driftPercent ?? 0) >= DRIFT_PERCENT) return;
  const [firstRun, secondRun] = runs;
  const setting = firstRun && secondRun && firstRun.to - firstRun.from < PASSAGE ? secondRun : firstRun;
  let base = free && setting ? setting.e : 0;
  /** Runs before this one are told of. */
  let next = 0;
  for (const [k, run] of runs.entries()) {
    if (k < next) continue;
    const rest = answers.slice(run.from);
    const [first] = rest;
    if (first === undefined) return;
    const by = run.e - base;
    if (Math.abs(by) < worth) continue;
    // A restart explains what is late after it.
    if (answers.slice(0, run.from + 1).some((a) => a.restart)) return tell(rest);
    const repeated = ev.repeats.some((r) => r.played.some((j) => j < first.j));
    const late = by > 0;
    const at = placeOf(ev, first.i);
    const same = e.slice(run.from).filter((x) => Math.abs(x - run.e) < worth).length;
    if (same >= PASSAGE && same >= 0.75 * rest.length) {
      tell(rest);
      if (repeated && late) return;
      if (k === 0 && !free) out.say(late ? 'came-in-late' : 'came-in-early', cost(rest), amount(by));
      else if (free && late) out.say('paused', cost(rest), { ...at, ...amount(by) });
      else out.say(late ? 'shifted-late' : 'shifted-early', cost(rest), { ...at, ...amount(by) });
      return;
    }
    const later = runs.slice(k + 1).findIndex((r) => Math.abs(r.e - base) < worth || r.e > base !== late);
    const back = later < 0 ? runs.length : k + 1 + later;
    const returned = runs[back];
    const passage = answers.slice(run.from, returned?.from);
    const falling = runs.slice(k, back).every((r, x, all) => r.e < (all[x - 1]?.e ?? Infinity));
    if (late && returned && falling && (back - k > 1 || passage.length <= PASSAGE))
      out.say('hesitated', cost(passage), { ...at, ...amount(e[run.from]! - base) });
    else if (passage.length >= PASSAGE)
      out.say(late ? 'stretch-late' : 'stretch-early', cost(passage), {
        ...at,
        count: passage.length,
        ...amount(by),
      });
    else continue;
    tell(passage);
    if (returned) tell(answers.slice(returned.from, returned.from + 1));
    if (free && returned) base = returned.e;
    next = back;
  }
}
