import { markTake, type Mark, type MarkRequest, type PlayedNote } from '../../../src/tests-engine/index.ts';

/** Two bars of 4/4 at 100 bpm; no passage of it repeats another. */
export const BEAT = 0.6;
const BEATS = [0, 1, 1.5, 2, 3, 3.5, 4, 5, 5.5, 6, 6.5, 7];
const PITCHES = [60, 64, 67, 65, 69, 71, 62, 65, 72, 71, 67, 60];
export const TUNE: readonly { onsetSec: number; midi: number }[] = BEATS.map((beat, k) => ({
  onsetSec: beat * BEAT,
  midi: PITCHES[k]!,
}));
export const BAR2 = 6;

export const moved = (from: number, to: number, by: number, notes = TUNE): PlayedNote[] =>
  notes.map((n, k) => (k >= from && k < to ? { ...n, onsetSec: n.onsetSec + by } : n));

export function mark(played: readonly PlayedNote[], over: Partial<MarkRequest> = {}): Mark {
  return markTake({
    target: TUNE,
    played,
    clock: 'backing',
    transposition: 'none',
    beatSec: BEAT,
    beatsPerBar: 4,
    ...over,
  });
}
export const kinds = (m: Mark): string => m.verdicts.map((v) => v.kind).join(' ');
export const codes = (m: Mark): string[] => m.readings.map((r) => r.code);
/** Verdict kinds other than right, with where: what is wrong with the take at a glance. */
export const faults = (m: Mark): string[] =>
  m.verdicts.filter((v) => v.kind !== 'right').map((v) => `${v.kind} ${v.targetIndex ?? '-'}`);
export const lostSum = (m: Mark): number => m.lost.notes + m.lost.rhythm + m.lost.pulse + m.lost.continuity;
