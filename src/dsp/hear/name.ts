import type { Accepted } from '../decision/accept.ts';
import { noteEnd } from '../note/offset.ts';
import { createSpectra } from '../pitch/comb.ts';
import { fineMidi } from '../pitch/fineTune.ts';
import { answersInLine, PITCH_WEIGHTS, pitchScores } from '../pitch/notePitch.ts';
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

/** Under both there is no pitch. Salience alone would say so of a driven E2 whose fifth harmonic is as periodic as itself. */
const LEAST_SALIENCE = 0.03;
const LEAST_CLARITY = 0.5;

/** What begins later than this before the take ends has nothing to be named by: pitch is sought from 12 ms on. */
const LEAST_LENGTH = ms(20);

/**
 * Names the pitch of each accepted onset, from its attack to the next.
 *
 * @param pitchless what sounds without a pitch is left out beside a backing, whose leftovers have none; elsewhere it is
 *   kept: of 78 such plucks of a cross-validated run, mostly heavily distorted low strings, 71 were named rightly by
 *   their spectrum, and 5 were none
 */
export function nameNotes(
  analysis: Analysis,
  accepted: readonly Accepted[],
  pitchless: 'kept' | 'dropped' = 'dropped',
  weights = PITCH_WEIGHTS,
): NamedNote[] {
  const { take, pitch } = analysis;
  const spectra = createSpectra();
  const named: NamedNote[] = [];
  const scored = accepted.map((one, i) => {
    const at = one.possible.attack.at;
    const until = accepted[i + 1]?.possible.attack.at ?? take.samples.length;
    return { at, until, scores: pitchScores(take, pitch, at, until, spectra, weights) };
  });
  const answers = answersInLine(scored, pitch, weights);
  accepted.forEach((one, i) => {
    const { at, until } = scored[i]!;
    const { midi, salience, clarity, margin } = answers[i]!;
    if (until - at < LEAST_LENGTH) return;
    if (pitchless === 'dropped' && salience < LEAST_SALIENCE && clarity < LEAST_CLARITY) return;
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
