import type { Accepted } from '../decision/accept.ts';
import { noteEnd } from '../note/offset.ts';
import { createSpectra } from '../pitch/comb.ts';
import { fineMidi } from '../pitch/fineTune.ts';
import { answersInLine, pitchScores } from '../pitch/notePitch.ts';
import { levelBetween, ms } from '../signal/prepared.ts';
import type { Analysis } from './analysis.ts';

/** A note before tuning and confidence: samples at the working rate. */
export interface NamedNote {
  readonly at: number;
  readonly end: number;
  /** Semitone found, whole. */
  readonly midi: number;
  /** Where the pitch really lies, fractional. */
  readonly fine: number;
  readonly salience: number;
  readonly margin: number;
  readonly probability: number;
  /** First 50 ms, dB after scaling. */
  readonly levelDb: number;
}

/**
 * Under both there is no pitch, and so no note. The gate alone would drop a driven E2 whose fifth harmonic is as
 * periodic as itself; at 0.1 of salience some 15 of 2104 true notes were lost.
 */
const LEAST_SALIENCE = 0.03;
const LEAST_CLARITY = 0.5;

/** Names the pitch of each accepted onset, from its attack to the next; what has no pitch is left out. */
export function nameNotes(analysis: Analysis, accepted: readonly Accepted[]): NamedNote[] {
  const { take, pitch } = analysis;
  const spectra = createSpectra();
  const named: NamedNote[] = [];
  const scored = accepted.map((one, i) => {
    const at = one.possible.attack.at;
    const until = accepted[i + 1]?.possible.attack.at ?? take.samples.length;
    return { at, until, scores: pitchScores(take, pitch, at, until, spectra) };
  });
  const answers = answersInLine(scored, pitch);
  accepted.forEach((one, i) => {
    const { at, until } = scored[i]!;
    const { midi, salience, clarity, margin } = answers[i]!;
    if (salience < LEAST_SALIENCE && clarity < LEAST_CLARITY) return;
    named.push({
      at,
      end: noteEnd(take, at, until),
      midi,
      fine: fineMidi(take.samples, at, until, midi),
      salience,
      margin,
      probability: one.probability,
      levelDb: levelBetween(take.energy, at, at + ms(50)),
    });
  });
  return named;
}
