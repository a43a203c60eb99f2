import { upperMedian } from '../../../music/numbers.ts';
import type { ChordMark, ChordVerdict, Fact } from '../anyMark.ts';
import { DEFAULT_THRESHOLDS, outcomeOf, type Thresholds } from '../../../music/outcome.ts';
import { MARKER_VERSION } from '../types.ts';
import { alignStrums } from './alignStrums.ts';
import type { AnsweredStrum, DueChord } from './alignStrums.ts';
import { chordReadings } from './readings.ts';

export interface ChordMarkOptions {
  /** Half-width of what is not known of the latency, ms. */
  readonly latencyUncertaintyMs?: number;
  /** Could what was heard at this time, s from beat 1, be the voice that names the chords? Then it is no stroke too many. */
  readonly mayBeVoice?: (atSec: number) => boolean;
  readonly thresholds?: Thresholds;
}

/**
 * A strum within this of the click costs nothing. Common practice, no source: twice what the ear takes for together on plucked
 * strings, and twice the 15 ms within which nine in ten first strings are placed.
 */
export const TOLERANCE_MS = 60;
/** From here on the time is lost altogether. */
const LOST_MS = 400;
/** Of a chord's points, time has this share where one was asked. */
const TIME_SHARE = 0.35;
/** What is lost of a chord that is wrong in one class, in its bass alone, or altogether. */
export const ONE_CLASS = 0.6;
const BASS_ALONE = 0.3;
/** Strums that answer nothing, where none but those asked for belong; beyond half of the chords no more is lost. */
const EXTRA = 0.25;

/** Share, 0…1, that is lost of the chord's own points. */
export function wrongShare(verdict: ChordVerdict): number {
  if (verdict.kind !== 'no') return 0;
  const classes = verdict.missing.length + verdict.foreign.length;
  if (classes === 0) return BASS_ALONE;
  return classes === 1 || (verdict.missing.length === 1 && verdict.foreign.length === 1) ? ONE_CLASS : 1;
}

function timeShare(errorMs: number | null): number {
  if (errorMs === null) return 0;
  return Math.min(1, Math.max(0, (Math.abs(errorMs) - TOLERANCE_MS) / (LOST_MS - TOLERANCE_MS)));
}

/** Late counts from the first string, early from the full stroke: a rake around the click is neither. */
export function strumErrorMs(dueSec: number, { firstSec, fullSec }: AnsweredStrum): number {
  if (firstSec >= dueSec) return 1000 * (firstSec - dueSec);
  if (fullSec <= dueSec) return 1000 * (fullSec - dueSec);
  return 0;
}

/**
 * How late the take as a whole is, ms, as far as the unknown part of the round trip may be the reason: times are told from there. It is
 * the median, so that one slow change moves nothing.
 */
function centreMs(
  asked: readonly DueChord[],
  strums: readonly AnsweredStrum[],
  answers: readonly (number | null)[],
  unknownMs: number,
): number {
  const errors = answers.flatMap((index, i) => {
    const { dueSec } = asked[i]!;
    return index === null || dueSec === null ? [] : [1000 * (strums[index]!.firstSec - dueSec)];
  });
  return Math.max(-unknownMs, Math.min(unknownMs, upperMedian(errors)));
}

/** Too soft to be told, or no strings: a string let go, a knock. It answers nothing, and is no stroke too many either. */
const isNoChord = ({ as }: AnsweredStrum): boolean =>
  as.size > 0 && [...as.values()].every(({ doubt }) => doubt === 'too-quiet' || doubt === 'not-a-chord');

const earlier = (strum: AnsweredStrum, ms: number): AnsweredStrum => ({
  ...strum,
  firstSec: strum.firstSec - ms / 1000,
  fullSec: strum.fullSec - ms / 1000,
});

function verdictsOf(
  asked: readonly DueChord[],
  strums: readonly AnsweredStrum[],
  unknownMs: number,
  mayBeVoice: (atSec: number) => boolean,
): ChordVerdict[] {
  const { answers, extra } = alignStrums(asked, strums);
  const centre = centreMs(asked, strums, answers, unknownMs);
  const none = { missing: [], foreign: [], bass: null, errorMs: null };
  const verdicts = answers.map((strumIndex, askedIndex): ChordVerdict => {
    if (strumIndex === null) return { ...none, kind: 'missed', askedIndex, atSec: null };
    const strum = strums[strumIndex]!;
    const { verdict, findings } = strum.as.get(askedIndex)!;
    const { dueSec } = asked[askedIndex]!;
    return {
      kind: verdict === 'cannot-tell' ? 'unsure' : verdict,
      askedIndex,
      atSec: strum.firstSec,
      errorMs: dueSec === null ? null : strumErrorMs(dueSec, earlier(strum, centre)),
      missing: verdict === 'no' ? findings.missing : [],
      foreign: verdict === 'no' ? findings.foreign : [],
      bass: verdict === 'no' ? findings.lowerNote : null,
    };
  });
  // In the order asked; an extra strum stands before the first answer that came after it.
  for (const index of extra) {
    const atSec = strums[index]!.firstSec;
    if (isNoChord(strums[index]!) || mayBeVoice(atSec)) continue;
    const later = verdicts.findIndex((v) => v.atSec !== null && v.atSec > atSec);
    verdicts.splice(later < 0 ? verdicts.length : later, 0, {
      ...none,
      kind: 'extra',
      askedIndex: null,
      atSec,
    });
  }
  return verdicts;
}

/**
 * Points of verdicts, and how far those that sound cannot tell could move them.
 * @param timed whether each chord asked for has its time @param wrong share, 0…1, lost of a wrong chord's notes
 * @returns no mark where nothing but untold chords is there
 */
export function chordPoints(
  timed: readonly boolean[],
  verdicts: readonly ChordVerdict[],
  wrong: (verdict: ChordVerdict, index: number) => number,
): { readonly mark: number | null; readonly range: readonly [number, number] | null } {
  let told = 0;
  let kept = 0;
  let unsure = 0;
  for (const [index, verdict] of verdicts.entries()) {
    if (verdict.askedIndex === null) continue;
    const share = timed[verdict.askedIndex] ? TIME_SHARE : 0;
    const intime = share * (1 - timeShare(verdict.errorMs));
    if (verdict.kind === 'unsure') {
      // Its time is known though its notes are not.
      unsure += 1 - share;
      kept += intime;
      told += share;
    } else {
      told += 1;
      if (verdict.kind !== 'missed') kept += (1 - share) * (1 - wrong(verdict, index)) + intime;
    }
  }
  const extras = verdicts.filter(({ kind }) => kind === 'extra').length;
  const lost = Math.min(0.5 * timed.length, EXTRA * extras);
  const of = (right: number, whole: number): number =>
    Math.round(10 * Math.max(0, Math.min(100, (100 * (right - lost)) / whole))) / 10;
  // With nothing but untold chords there is nothing to mark.
  const mark = told > 0 ? of(kept, told) : null;
  const range: [number, number] | null =
    unsure > 0 && mark !== null ? [of(kept, told + unsure), of(kept + unsure, told + unsure)] : null;
  return { mark, range };
}

/**
 * Marks chords that were asked for. A chord that sound cannot tell costs nothing: the mark is that of the others, and the range says
 * how far the untold ones could move it.
 *
 * @param asked at least one chord @throws RangeError for none
 */
export function markChords(
  asked: readonly DueChord[],
  strums: readonly AnsweredStrum[],
  options: ChordMarkOptions = {},
): ChordMark {
  if (asked.length === 0) throw new RangeError('at least one chord must be asked for');
  const { latencyUncertaintyMs = 0, mayBeVoice = () => false } = options;
  const verdicts = verdictsOf(asked, strums, latencyUncertaintyMs, mayBeVoice);
  const common = { version: MARKER_VERSION, type: 'chords' as const, verdicts };
  if (strums.length === 0) {
    const advice: Fact = { code: 'nothing-played', values: {} };
    return {
      ...common,
      mark: null,
      reason: 'nothing-played',
      range: null,
      outcome: null,
      readings: [advice],
      advice,
    };
  }
  const { mark, range } = chordPoints(
    asked.map(({ dueSec }) => dueSec !== null),
    verdicts,
    wrongShare,
  );
  const readings = chordReadings(asked, verdicts, TOLERANCE_MS);
  return {
    ...common,
    mark,
    reason: mark === null ? 'unclear' : null,
    range,
    outcome: mark === null ? null : outcomeOf(mark, options.thresholds ?? DEFAULT_THRESHOLDS),
    readings,
    advice: readings[0]!,
  };
}
