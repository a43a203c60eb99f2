import { median } from '../../../music/numbers.ts';
import { MELODY } from '../rule.ts';
import { type Evidence, placeOf, type Sayings } from './evidence.ts';

/** From here a whole passage counts as transposed. */
const MOVED_SEMITONES = 0.7;
/** How alike its notes must be. */
const ALIKE_SEMITONES = 0.6;
/** A passage: three notes, and a third of the take. */
const PASSAGE_NOTES = 3;
const PASSAGE_SHARE = 0.3;

export const isOctave = (d: number): boolean =>
  Math.abs(d) > 6 && Math.abs(d - 12 * Math.round(d / 12)) <= 0.5;
export const toSemitones = (d: number): number => Math.round(d) || Math.sign(d);

/** The whole take, or all from a note on, in another place. */
export function transposed(ev: Evidence, out: Sayings): void {
  const pitched = ev.account.answers.filter((a) => !Number.isNaN(a.d));
  const by = median(pitched.slice(-PASSAGE_NOTES).map((a) => a.d));
  // All after the last note that is not alike.
  const tail = pitched.findLastIndex((a) => !(Math.abs(a.d - by) <= ALIKE_SEMITONES)) + 1;
  const passage = pitched.slice(tail);
  const [first] = passage;
  if (
    first === undefined ||
    Math.abs(by) < MOVED_SEMITONES ||
    passage.length < Math.max(PASSAGE_NOTES, pitched.length * PASSAGE_SHARE)
  )
    return;
  for (const a of passage) out.pitchExplained.add(a);
  const points = passage.reduce((sum, a) => sum + a.notes, 0);
  const inPlaceBefore = pitched.slice(0, tail).some((a) => Math.abs(a.d) <= 0.5);
  if (inPlaceBefore) out.say('moved-pitch', points, { ...placeOf(ev, first.i), semitones: toSemitones(by) });
  else if (isOctave(by)) out.say('octave-off', points, { octaves: Math.round(by / 12) });
  else out.say('wrong-start', points, { semitones: toSemitones(by) });
}

/** Single wrong notes that no transposition explains. */
export function wrongNotes(ev: Evidence, out: Sayings): void {
  const told = new Set([...out.pitchExplained].map((a) => a.j));
  const wrong = ev.verdicts.filter((v) => v.kind === 'wrong' && !told.has(v.playedIndex!));
  const [first] = wrong;
  if (first === undefined) return;
  const n = ev.reading.frame.t.length;
  const at = placeOf(ev, first.targetIndex!);
  const points = MELODY.pitch * wrong.length;
  const d = first.errorSemitones!;
  if (wrong.length > n / 2) out.say('many-wrong-notes', points, { count: wrong.length, of: n });
  else if (wrong.length > 1) out.say('wrong-notes', points, { ...at, count: wrong.length });
  else if (isOctave(d)) out.say('octave-slip', points / 2, { ...at, octaves: Math.round(d / 12) });
  else out.say('wrong-note', points, { ...at, semitones: toSemitones(d) });
}
