import type { Account, Answer } from './account.ts';
import { WINDOW } from './cost.ts';
import type { Rule } from './rule.ts';
import type { Reading } from './placed.ts';
import type { NoteVerdict, VerdictKind } from './types.ts';

/** Under this confidence a note is not held against the student: more likely than not it was misheard. */
export const UNCLEAR = 0.5;
/** A note is the nearest one to its pitch. */
export const PITCH_EDGE = 0.5;

function kindOf(a: Answer, before: readonly Answer[], unclear: boolean): VerdictKind {
  if (!unclear && Math.abs(a.pitchError) > PITCH_EDGE) return 'wrong';
  const off = stepOf(a, before);
  if (Math.abs(off) <= a.timeLimit) return 'right';
  return off > 0 ? 'late' : 'early';
}

/**
 * Time error in the words' sense: a note of a displaced passage after one that fell out of it is in step with those
 * before that one, not early.
 */
function stepOf(a: Answer, before: readonly Answer[]): number {
  let off = a.timeError;
  if (!a.inStep || a.restart || Math.abs(off) <= a.timeLimit) return off;
  for (const b of before.toReversed()) {
    if (a.i - b.i > WINDOW || b.i >= a.i) break;
    const step = a.e - b.e;
    if (Math.abs(step) < Math.abs(off)) off = step;
    if (b.restart) break;
  }
  return off;
}

/** Wrong in pitch and wholly out of time: a missed note and an extra one, which is what it costs. */
const strayed = (a: Answer, rule: Rule): boolean =>
  a.notes >= rule.pitch && rule.pitch > 0 && a.rhythm + a.pulse >= rule.time;

/** A verdict for each written note and each played one, in order of time. */
export function verdicts(
  reading: Reading,
  { answers }: Account,
  rule: Rule,
  confidence: (j: number) => number,
): NoteVerdict[] {
  const { frame, rate } = reading;
  const found: { at: number; verdict: NoteVerdict }[] = [];
  const last = new Map<number, Answer>();
  for (const a of answers) if (!strayed(a, rule)) last.set(a.i, a);
  const used = new Set<number>();
  for (const [k, a] of answers.entries()) {
    const unclear = confidence(a.j) < UNCLEAR;
    if (last.get(a.i) !== a) {
      found.push({ at: frame.s[a.j]!, verdict: extra(a.j, unclear) });
      used.add(a.j);
      continue;
    }
    used.add(a.j);
    found.push({
      at: frame.s[a.j]!,
      verdict: {
        kind: kindOf(a, answers.slice(Math.max(0, k - WINDOW), k), unclear),
        targetIndex: a.i,
        playedIndex: a.j,
        errorMs: round(a.e * rate * 1000),
        errorSemitones: Number.isNaN(a.d) ? null : round(a.d, 100),
        unclear,
        ...(a.inStep || a.inTune ? { inStep: true } : {}),
      },
    });
  }
  for (let i = 0; i < frame.t.length; i++)
    if (!last.has(i))
      found.push({
        at: frame.t[i]!,
        verdict: {
          kind: 'missed',
          targetIndex: i,
          playedIndex: null,
          errorMs: null,
          errorSemitones: null,
          unclear: false,
        },
      });
  for (let j = 0; j < frame.s.length; j++)
    if (!used.has(j)) found.push({ at: frame.s[j]!, verdict: extra(j, confidence(j) < UNCLEAR) });
  return found.sort((a, b) => a.at - b.at).map((f) => f.verdict);
}

const extra = (j: number, unclear: boolean): NoteVerdict => ({
  kind: 'extra',
  targetIndex: null,
  playedIndex: j,
  errorMs: null,
  errorSemitones: null,
  unclear,
});
export const round = (x: number, per = 10): number => Math.round(x * per) / per + 0;
