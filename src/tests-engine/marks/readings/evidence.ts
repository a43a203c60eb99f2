import type { Account, Answer } from '../account.ts';
import type { Reading } from '../placed.ts';
import type { Advice, AdviceCode, Clock, Mark, NoteVerdict } from '../types.ts';

/** A written passage played again. */
export interface Repeat {
  /** First written note of the passage. */
  readonly i: number;
  /** Played notes that the mark did not use. */
  readonly played: readonly number[];
}

/** Everything the readings are made from. */
export interface Evidence {
  readonly reading: Reading;
  readonly account: Account;
  readonly verdicts: readonly NoteVerdict[];
  readonly repeats: readonly Repeat[];
  readonly timing: Mark['timing'];
  readonly clock: Clock;
  /** Beat of the target on the frame's clock, seconds; null where it is not known. */
  readonly beatSec: number | null;
  readonly beatsPerBar: number;
  /** Written time of the frame's zero, on the frame's clock: 0 where the frame begins with bar 1. */
  readonly zeroSec: number;
}

/** A reading and the points of a note that it explains: the order of telling. */
export interface Weighed extends Advice {
  readonly points: number;
}

export class Sayings {
  readonly all: Weighed[] = [];
  /** Answers whose timing, or whose pitch, a reading already explains. */
  readonly timingExplained = new Set<Answer>();
  readonly pitchExplained = new Set<Answer>();

  say(code: AdviceCode, points: number, values: Advice['values'] = {}): void {
    this.all.push({ code, points, values });
  }
}

/** A thousandth of a beat: rounding must not put a downbeat into the bar before. */
const SLACK_BEATS = 1e-3;

/** Where a written note stands: `note` from 1, with `bar` and `beat` from 1 where the beat is known. */
export function placeOf(ev: Evidence, i: number): Record<string, number> {
  if (ev.beatSec === null) return { note: i + 1 };
  const beats = (ev.reading.frame.t[i]! + ev.zeroSec) / ev.beatSec + SLACK_BEATS;
  const bar = Math.floor(beats / ev.beatsPerBar);
  return { note: i + 1, bar: bar + 1, beat: Math.floor(beats - bar * ev.beatsPerBar) + 1 };
}
