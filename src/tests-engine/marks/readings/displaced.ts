import type { Answer } from '../account.ts';
import { median } from '../median.ts';
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
  for (let k = 1; k < answers.length; k++)
    for (let o = Math.max(0, k - PULSE_REACH); o < k; o++) {
      const written = t[answers[k].i] - t[answers[o].i];
      if (written > 0) ratios.push((s[answers[k].j] - s[answers[o].j]) / written);
    }
  // All struck at one instant: no pulse.
  const pulse = (ratios.length ? median(ratios) : 0) || 1;
  return answers.map((a) => s[a.j] / pulse - t[a.i]);
}

function runsOf(e: readonly number[], due: readonly number[], step: number): Run[] {
  const found: Run[] = [];
  let from = 0;
  for (let k = 1; k <= e.length; k++)
    if (
      k === e.length ||
      Math.abs(e[k] - e[k - 1]) >= Math.max(step, STEP_OF_GAP * Math.abs(due[k] - due[k - 1]))
    ) {
      found.push({ from, to: k, e: median(e.slice(from, k)) });
      from = k;
    }
  return found;
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
    answers.map((a) => ev.reading.frame.t[a.i]),
    worth * STEP_SHARE,
  );
  const cost = (list: readonly Answer[]): number => list.reduce((sum, a) => sum + a.rhythm + a.pulse, 0);
  const amount = (x: number): Record<string, number> =>
    beat === null ? { ms: Math.abs(round(x * 1000, 1)) } : { beats: Math.abs(round(x / beat, 4)) };
  const tell = (list: readonly Answer[]): void => list.forEach((a) => out.timeTold.add(a));

  const off = answers.filter((a) => Math.abs(a.timeError) > a.timeLimit).length;
  const far = answers.filter((a) => Math.abs(a.timeError) >= worth).length;
  const free = ev.clock === 'free';
  // At one's own tempo long notes cut short again and again are a rhythm, not a shift.
  const cut = runs.filter((run, k) => k > 0 && run.e < runs[k - 1].e).length >= CUT_SHORT;
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
  let base = free ? runs[runs.length > 1 && runs[0].to - runs[0].from < PASSAGE ? 1 : 0].e : 0;
  for (let k = 0; k < runs.length; k++) {
    const run = runs[k];
    const by = run.e - base;
    if (Math.abs(by) < worth) continue;
    const rest = answers.slice(run.from);
    // A restart explains what is late after it.
    if (answers.slice(0, run.from + 1).some((a) => a.restart)) return tell(rest);
    const repeated = ev.repeats.some((r) => r.played.some((j) => j < answers[run.from].j));
    const late = by > 0;
    const at = placeOf(ev, answers[run.from].i);
    const same = e.slice(run.from).filter((x) => Math.abs(x - run.e) < worth).length;
    if (same >= PASSAGE && same >= 0.75 * rest.length) {
      tell(rest);
      if (repeated && late) return;
      if (k === 0 && !free) out.say(late ? 'came-in-late' : 'came-in-early', cost(rest), amount(by));
      else if (free && late) out.say('paused', cost(rest), { ...at, ...amount(by) });
      else out.say(late ? 'shifted-late' : 'shifted-early', cost(rest), { ...at, ...amount(by) });
      return;
    }
    let back = k + 1;
    while (back < runs.length && Math.abs(runs[back].e - base) >= worth && runs[back].e > base === late)
      back++;
    const passage = answers.slice(run.from, back < runs.length ? runs[back].from : answers.length);
    const falling = runs.slice(k, back).every((r, x, all) => x === 0 || r.e < all[x - 1].e);
    if (late && back < runs.length && falling && (back - k > 1 || passage.length <= PASSAGE))
      out.say('hesitated', cost(passage), { ...at, ...amount(e[run.from] - base) });
    else if (passage.length >= PASSAGE)
      out.say(late ? 'stretch-late' : 'stretch-early', cost(passage), {
        ...at,
        count: passage.length,
        ...amount(by),
      });
    else continue;
    tell(passage);
    if (back < runs.length) tell([answers[runs[back].from]]);
    if (free && back < runs.length) base = runs[back].e;
    k = back - 1;
  }
}
