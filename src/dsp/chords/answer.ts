import type { AskedChord, StrumAnswers } from '../../music/chords/heard.ts';
import { joinBroken } from './broken.ts';
import { judgeStrum } from './judge.ts';
import type { HeardStrum } from './heardStrum.ts';
import type { JudgeOptions } from './judge.ts';

/** A chord asked for, and when a strum may answer it, seconds on the clock of the strums. */
export interface AskedSpan {
  readonly chord: AskedChord;
  readonly fromSec: number;
  readonly toSec: number;
}

/** Chords asked for in order only are answered in order: a strum may be so many places off, and by what was struck too often or not. */
const PLACES_OFF = 3;

/** Judges every strum as every chord in whose span it lies: which of them it answers is decided elsewhere. A broken chord is one strum. */
export function answerChords(
  strums: readonly HeardStrum[],
  asked: readonly AskedSpan[],
  options: JudgeOptions & { readonly free?: boolean } = {},
): StrumAnswers[] {
  const off = PLACES_OFF + Math.abs(strums.length - asked.length);
  const answers = strums.map((strum, place) => {
    const { firstSec, fullSec, untilSec, levelDb } = strum;
    const near = asked.flatMap(({ chord, fromSec, toSec }, index) =>
      firstSec >= fromSec && firstSec <= toSec && (toSec < Infinity || Math.abs(index - place) <= off)
        ? [[index, judgeStrum(strum, chord, options)] as const]
        : [],
    );
    return { firstSec, fullSec, untilSec, levelDb, as: new Map(near) };
  });
  return joinBroken(answers, options.free);
}
