import { upperMedian } from '../../../music/numbers.ts';
import type { ChordVerdict, Fact } from '../anyMark.ts';
import type { DueChord } from './alignStrums.ts';

/** What a teacher may say of a take of chords. Values beside each code; texts stand in the catalogue of what is shown. */
export type ChordFactCode =
  | 'chords-right'
  | 'chord-another' // chord
  | 'chord-replaced' // chord, pitchClass (missing), instead
  | 'chord-missing' // chord, pitchClass
  | 'chord-foreign' // chord, pitchClass
  | 'chord-bass' // chord
  | 'chord-missed' // chord
  | 'change-late' // from, to, ms
  | 'chords-late' // ms, count
  | 'chords-early'
  | 'chord-extra' // count
  | 'not-heard' // reason: of the whole take; it is not marked
  | 'chord-unsure'; // count: what sound cannot tell; costs nothing

/** What a teacher would say of a take of chords, most telling first. */
export function chordReadings(
  asked: readonly DueChord[],
  verdicts: readonly ChordVerdict[],
  toleranceMs: number,
): Fact[] {
  const facts: (Fact & { weight: number })[] = [];
  const add = (weight: number, code: ChordFactCode, values: Fact['values']): void =>
    void facts.push({ weight, code, values });
  for (const verdict of verdicts) {
    if (verdict.askedIndex === null) continue;
    const chord = asked[verdict.askedIndex]!.symbol;
    const [missing, foreign] = [verdict.missing[0], verdict.foreign[0]];
    if (verdict.kind === 'missed') add(5, 'chord-missed', { chord });
    if (verdict.kind !== 'no') continue;
    if (verdict.missing.length >= 2 && verdict.foreign.length >= 2) add(6, 'chord-another', { chord });
    else if (missing !== undefined && foreign !== undefined)
      add(5, 'chord-replaced', { chord, pitchClass: missing, instead: foreign });
    else if (missing !== undefined) add(4, 'chord-missing', { chord, pitchClass: missing });
    else if (foreign !== undefined) add(4, 'chord-foreign', { chord, pitchClass: foreign });
    else add(3, 'chord-bass', { chord });
  }
  addTimes(asked, verdicts, toleranceMs, add);
  const extras = verdicts.filter(({ kind }) => kind === 'extra').length;
  if (extras > 0) add(1, 'chord-extra', { count: extras });
  const unsure = verdicts.filter(({ kind }) => kind === 'unsure').length;
  if (unsure > 0) add(0.5, 'chord-unsure', { count: unsure });
  if (facts.length === 0) add(0, 'chords-right', {});
  // Of one weight the first in time is told first: sorting is stable.
  return facts.sort((a, b) => b.weight - a.weight).map(({ code, values }) => ({ code, values }));
}

/** Changes that come late where the others do not, named; or all of them early or late. */
function addTimes(
  asked: readonly DueChord[],
  verdicts: readonly ChordVerdict[],
  toleranceMs: number,
  add: (weight: number, code: ChordFactCode, values: Fact['values']) => void,
): void {
  const timed = verdicts.filter((v) => v.askedIndex !== null && v.errorMs !== null);
  if (timed.length === 0) return;
  const middle = upperMedian(timed.map((v) => v.errorMs!));
  if (Math.abs(middle) > toleranceMs && timed.length >= 3)
    add(3, middle > 0 ? 'chords-late' : 'chords-early', {
      ms: Math.round(Math.abs(middle)),
      count: timed.length,
    });
  for (const verdict of timed) {
    const index = verdict.askedIndex!;
    const before = asked[index - 1]?.symbol;
    const to = asked[index]!.symbol;
    const late = verdict.errorMs! - Math.max(0, middle);
    if (late > toleranceMs && before !== undefined && before !== to)
      add(3 + late / 1000, 'change-late', { from: before, to, ms: Math.round(verdict.errorMs!) });
  }
}
