import type { Answer } from '../account.ts';
import type { Reading } from '../placed.ts';
import type { NoteVerdict } from '../types.ts';
import { type Evidence, placeOf, type Repeat, type Sayings } from './evidence.ts';

/** As few notes as make a repeat: pitches tell it sooner than a rhythm does. */
const FEWEST_PITCHED = 2;
const FEWEST_RHYTHM = 3;
/** A repeated duration may be this share off. */
const DURATION_SLACK = 0.3;

function same(reading: Reading, i: number, j: number, length: number): boolean {
  const { t, p, s, q } = reading.frame;
  for (let x = 0; x < length; x++) {
    if (Math.abs(q[j + x]! - p[i + x]!) > 0.5) return false;
    if (x === 0) continue;
    const written = t[i + x]! - t[i + x - 1]!;
    if (Math.abs(s[j + x]! - s[j + x - 1]! - written) > DURATION_SLACK * written + 0.05) return false;
  }
  return true;
}

/** Passages that were gone back to: restarts of the alignment, and runs of extra notes that repeat the writing. */
export function findRepeats(
  reading: Reading,
  answers: readonly Answer[],
  verdicts: readonly NoteVerdict[],
): Repeat[] {
  const found: Repeat[] = [];
  const idle = new Set(verdicts.filter((v) => v.kind === 'extra').map((v) => v.playedIndex!));
  for (const [k, { i, restart }] of answers.entries()) {
    if (!restart) continue;
    const played = answers.slice(0, k).filter((a) => a.i >= i && idle.has(a.j));
    found.push({ i, played: played.map((a) => a.j) });
    for (const a of played) idle.delete(a.j);
  }
  const pitched = reading.frame.p.some((x) => !Number.isNaN(x));
  const fewest = pitched ? FEWEST_PITCHED : FEWEST_RHYTHM;
  const m = reading.frame.s.length;
  for (let j = 0; j < m; j++) {
    if (!idle.has(j)) continue;
    let length = 1;
    while (idle.has(j + length)) length++;
    const before = answers.findLast((a) => a.j < j)?.i ?? -1;
    // What comes nearest to the place reached is what was gone back to.
    for (let i = before + 1; length >= fewest && i >= 0; i--)
      if (i + length <= reading.frame.t.length && same(reading, i, j, length)) {
        found.push({ i, played: Array.from({ length }, (_, x) => j + x) });
        break;
      }
    j += length - 1;
  }
  return found;
}

export function repeatReadings(ev: Evidence, out: Sayings): void {
  for (const { i, played } of ev.repeats)
    out.say('restarted', 1 + 0.5 * played.length, { ...placeOf(ev, i), count: played.length });
}
