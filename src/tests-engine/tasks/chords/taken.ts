import type { HeardChords, TakenStrum } from '../../../music/chords/index.ts';
import { upperMedian } from '../../../music/numbers.ts';
import type { HeardTake } from '../../../music/notes.ts';
import { cents } from '../../../music/units.ts';
import type { AnsweredStrum } from '../../marks/chords/index.ts';

/** What the ear answered as a take that can be kept, sent and marked again. Single notes of it are not listed. */
export function takenChords({ strums, heard }: HeardChords): HeardTake {
  const tunings = strums.flatMap(({ as }) => [...as.values()].map(({ tuningCents }) => tuningCents));
  return {
    notes: [],
    tuningCents: cents(upperMedian(tunings)),
    heard,
    strums: strums.map(({ firstSec, fullSec, untilSec, as }): TakenStrum => ({
      firstSec,
      fullSec,
      untilSec,
      answers: [...as].map(([asked, { verdict, doubt, findings }]) => ({
        asked,
        verdict,
        doubt,
        missing: findings.missing,
        foreign: findings.foreign,
        lowerNote: findings.lowerNote,
      })),
    })),
  };
}

/** Kept strokes as the marks read them. */
export const answeredStrums = (strums: readonly TakenStrum[]): AnsweredStrum[] =>
  strums.map(({ firstSec, fullSec, answers }) => ({
    firstSec,
    fullSec,
    as: new Map(
      answers.map(({ asked, verdict, doubt, missing, foreign, lowerNote }) => [
        asked,
        { verdict, doubt, findings: { missing, foreign, lowerNote } },
      ]),
    ),
  }));
