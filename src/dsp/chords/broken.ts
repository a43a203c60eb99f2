import type { StrumAnswers } from '../../music/chords/heard.ts';
import { sec } from '../../music/units.ts';

/**
 * A chord may be broken: its strings struck one after another, so slowly that each is a stroke of its own, and left ringing. One of them
 * makes it whole; those before hold its beginning, those after its octaves. Strokes further apart than this are no one chord: a crotchet
 * at 60 bpm, or two at 120 where a soft string among them is not noticed.
 */
const APART_SEC = 1;
/** And no chord takes longer to break: six strings, a crotchet at 120 bpm each. */
const LONGEST_SEC = 3;

/** A chord that is whole and may go on: which one, and when its last string was struck. */
interface Whole {
  readonly asked: number;
  readonly atSec: number;
}

/**
 * Joins the strokes of a broken chord, as long as none holds anything foreign to it. What is joined begins with its first string, is full
 * with its last, and is what its first whole stroke was.
 * @param free strokes come as the player likes: after the whole chord each is one for itself, the chord struck again
 */
export function joinBroken(strums: readonly StrumAnswers[], free = false): StrumAnswers[] {
  const out: StrumAnswers[] = [];
  /** What the last of `out` is. */
  let open: Whole | null = null;
  for (const strum of strums) {
    const right = rightAs(strum);
    const last = out.at(-1);
    if (open && last && !free && goesOn(strum, open.asked) && near(last, open.atSec, strum)) {
      out[out.length - 1] = { ...last, fullSec: strum.firstSec, untilSec: strum.untilSec };
      open = { asked: open.asked, atSec: strum.firstSec };
      continue;
    }
    let first = strum;
    if (right.length === 1)
      for (let before = out.at(-1); before; before = out.at(-1)) {
        if (!leadsTo(before, right[0]!) || !near(before, before.firstSec, first)) break;
        if (strum.firstSec - before.firstSec > LONGEST_SEC) break;
        first = before;
        out.pop();
      }
    out.push(first === strum ? strum : { ...strum, firstSec: first.firstSec, fullSec: sec(strum.firstSec) });
    open = right.length === 1 ? { asked: right[0]!, atSec: strum.firstSec } : null;
  }
  return out;
}

const rightAs = ({ as }: StrumAnswers): number[] =>
  [...as].filter(([, { verdict }]) => verdict === 'yes').map(([index]) => index);

const near = (first: StrumAnswers, lastSec: number, next: StrumAnswers): boolean =>
  next.firstSec - lastSec <= APART_SEC && next.firstSec - first.firstSec <= LONGEST_SEC;

/** Does the stroke hold the beginning of the chord, being none that was asked for by itself? */
function leadsTo(stroke: StrumAnswers, asked: number): boolean {
  return rightAs(stroke).length === 0 && holdsNothingElse(stroke, asked);
}

/** After a chord that was whole: is this stroke more of it, and no other chord that was asked for? */
function goesOn(stroke: StrumAnswers, asked: number): boolean {
  for (const [index, { verdict }] of stroke.as) if (index !== asked && verdict !== 'no') return false;
  return holdsNothingElse(stroke, asked);
}

function holdsNothingElse({ as }: StrumAnswers, asked: number): boolean {
  const judged = as.get(asked);
  if (!judged) return false;
  const { doubt, findings } = judged;
  if (doubt !== null && doubt !== 'close') return doubt === 'too-short';
  return findings.foreign.length === 0 && findings.lowerNote === null;
}
