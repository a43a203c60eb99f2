import { STOP_NOTES } from '../account.ts';
import { type Evidence, placeOf, type Sayings } from './evidence.ts';

/** Missed and extra notes, stopping before the end, joining in after the start. */
export function gapReadings(ev: Evidence, out: Sayings): void {
  const answered = ev.account.answers.map((a) => a.i);
  const missed = ev.verdicts.filter((v) => v.kind === 'missed').map((v) => v.targetIndex!);
  const n = ev.reading.frame.t.length;
  let inside = missed;
  if (answered.length > 0) {
    const first = Math.min(...answered);
    const last = Math.max(...answered);
    const left = n - 1 - last;
    if (left >= STOP_NOTES) {
      out.say('stopped', left, { ...placeOf(ev, last), count: left });
      inside = inside.filter((i) => i <= last);
    }
    if (first >= STOP_NOTES) {
      out.say('joined-late', first, { ...placeOf(ev, first), count: first });
      inside = inside.filter((i) => i >= first);
    }
  }
  const [firstInside] = inside;
  if (firstInside !== undefined) {
    const at = placeOf(ev, firstInside);
    if (inside.length === 1) out.say('missed-note', 1, at);
    else out.say('missed-notes', inside.length, { ...at, count: inside.length });
  }

  const extras = ev.verdicts.filter((v) => v.kind === 'extra' && !v.repeated);
  const [firstExtra] = extras;
  if (firstExtra !== undefined && extras.length === 1) {
    const before = ev.verdicts
      .slice(0, ev.verdicts.indexOf(firstExtra))
      .findLast((v) => v.targetIndex !== null);
    out.say('extra-note', 0.5, placeOf(ev, before?.targetIndex ?? 0));
  } else if (extras.length > 1) out.say('extra-notes', 0.5 * extras.length, { count: extras.length });
}
