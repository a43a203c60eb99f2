import type { HeardTake } from '../../music/notes.ts';
import type { Phrase, PracticeTest } from '../../music/score.ts';
import { TICKS_PER_QUARTER, ticksToSec } from '../../music/units.ts';
import { swungTicks } from '../procedure/metre.ts';
import { markTake } from './mark.ts';
import type { Thresholds } from './thresholds.ts';
import type { Mark, TargetNote, Transposition } from './types.ts';

export interface MarkTestOptions {
  /** When beat 1 of bar 1 of the phrase fell, on the take's clock, seconds. */
  readonly zeroSec: number;
  readonly transposition?: Transposition;
  /** Half-width of what is not known of the latency, ms; Infinity where it was not measured. */
  readonly latencyUncertaintyMs?: number;
  readonly thresholds?: Thresholds;
}

/** Seconds after beat 1 of bar 1 at which a tick sounds; swung quavers have their own place. */
export function soundsAtSec(tick: number, tempoBpm: number, swing: number): number {
  return ticksToSec(swungTicks(tick, swing), tempoBpm);
}

/** The written notes of a phrase as due times from beat 1 of bar 1. */
export function targetOf(phrase: Phrase, tempoBpm: number, swing: number): TargetNote[] {
  return phrase.notes.map((note) => {
    const onsetSec = soundsAtSec(note.startTicks, tempoBpm, swing);
    const offBeat = note.startTicks % TICKS_PER_QUARTER !== 0;
    return {
      onsetSec,
      durationSec: soundsAtSec(note.startTicks + note.durationTicks, tempoBpm, swing) - onsetSec,
      midi: note.midi,
      ...(swing !== 0.5 && offBeat ? { swungOffBeat: true } : {}),
    };
  });
}

/**
 * Marks a heard take of a test on the backing's clock. In a melody test pitch counts; in a rhythm test other
 * pitches cost nothing and only draw a remark.
 */
export function markTest(test: PracticeTest, take: HeardTake, options: MarkTestOptions): Mark {
  const { metre } = test.phrase;
  const target = targetOf(test.phrase, test.tempoBpm, test.swing);
  const rhythm = test.kind === 'rhythm';
  const played = take.notes.map((note) => ({
    onsetSec: note.onsetSec - options.zeroSec,
    midi: note.midi,
    confidence: note.confidence,
  }));
  const mark = markTake({
    target: rhythm ? target.map(({ midi: _, ...rest }) => rest) : target,
    played,
    clock: 'backing',
    transposition: options.transposition ?? 'none',
    beatSec: (60 / test.tempoBpm) * (4 / metre.beatUnit),
    beatsPerBar: metre.beats,
    ...(test.level === null ? {} : { level: test.level }),
    ...(options.latencyUncertaintyMs === undefined
      ? {}
      : { latencyUncertaintyMs: options.latencyUncertaintyMs }),
    ...(options.thresholds === undefined ? {} : { thresholds: options.thresholds }),
  });
  const refused = take.heard.verdict === 'refused' ? take.heard.reason : null;
  if (refused !== null) return { ...mark, mark: null, reason: refused, range: null, outcome: null };
  if (!rhythm) return mark;
  const other = mark.verdicts.filter(
    (v) =>
      v.targetIndex !== null &&
      v.playedIndex !== null &&
      played[v.playedIndex].midi !== target[v.targetIndex].midi,
  ).length;
  return other === 0
    ? mark
    : { ...mark, readings: [...mark.readings, { code: 'other-pitch', values: { count: other } }] };
}
