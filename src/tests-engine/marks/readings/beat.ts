import type { NoteVerdict } from '../types.ts';
import { round } from '../verdicts.ts';
import { type Evidence, placeOf, type Sayings } from './evidence.ts';

/** Players who are not musicians tap with 30 to 40 ms of spread, trained ones with 15 to 20 (Repp 2005). */
const UNEVEN_MS = 35;
/** A tempo change of 6 %: well above the 2.5 % that can be heard (Friberg & Sundberg 1995). */
export const DRIFT_PERCENT = 6;

/** Timing that is no displaced passage: bias, unevenness, drift, single notes. */
export function beatReadings(ev: Evidence, out: Sayings): void {
  const { biasMs, unevennessMs, driftPercent } = ev.timing;
  const { answers } = ev.account;
  const told = new Set([...out.timingExplained].map((a) => a.j));
  const open = answers.filter((a) => !told.has(a.j));
  const lost = open.reduce((sum, a) => sum + a.rhythm + a.pulse, 0);
  // At one's own tempo a told stumble also bends the tempo found: the rest is not worth a word.
  if (lost <= 0 || (ev.clock === 'free' && told.size > 0)) return;
  const of = (kind: NoteVerdict['kind']): NoteVerdict[] =>
    ev.verdicts.filter((v) => v.kind === kind && !told.has(v.playedIndex!));
  const early = of('early');
  const late = of('late');
  const off = early.length + late.length;
  if (told.size === 0 && driftPercent !== null && Math.abs(driftPercent) >= DRIFT_PERCENT) {
    out.say(driftPercent > 0 ? 'speeding-up' : 'slowing-down', lost, {
      percent: Math.abs(round(driftPercent, 1)),
    });
    return;
  }
  const even = unevennessMs !== null && unevennessMs < UNEVEN_MS;
  if (ev.clock === 'backing' && biasMs !== null && even && off >= open.length / 2) {
    // As it is drawn: what was taken out is not told.
    const ms = biasMs - ev.reading.start * 1000;
    out.say(ms > 0 ? 'steady-late' : 'steady-early', lost, { ms: Math.abs(round(ms, 1)) });
    return;
  }
  const bothWays = early.length > 0 && late.length > 0 && off >= 3;
  if (unevennessMs !== null && !even && (off === 0 || bothWays)) {
    out.say('uneven', lost, { ms: round(unevennessMs, 1) });
    return;
  }
  for (const [list, one, many] of [
    [early, 'note-early', 'notes-early'],
    [late, 'note-late', 'notes-late'],
  ] as const) {
    const [first] = list;
    if (first === undefined) continue;
    const at = placeOf(ev, first.targetIndex!);
    const points = (lost * list.length) / off;
    if (list.length === 1) out.say(one, points, { ...at, ms: Math.abs(round(first.errorMs!, 1)) });
    else out.say(many, points, { ...at, count: list.length });
  }
}
