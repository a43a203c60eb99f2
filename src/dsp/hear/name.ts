import type { Accepted } from '../decision/accept.ts';
import { noteEnd } from '../note/offset.ts';
import { EVERY_PITCH } from '../note/range.ts';
import type { PitchRange } from '../note/range.ts';
import { createSpectra } from '../pitch/comb.ts';
import { fineMidi } from '../pitch/fineTune.ts';
import { answersInLine, PITCH_WEIGHTS, pitchScores, scoredPieces } from '../pitch/notePitch.ts';
import type { PitchWeights } from '../pitch/notePitch.ts';
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
 * A pitch out of range that leads by so much is meant: what sounds is none of the instrument's notes. On the development
 * set 0, 1 and 3 give the same notes; of a note so dropped none was true.
 */
const BEYOND = 1;

export interface NamingOptions {
  /** What the instrument can give; absent: every pitch. */
  readonly range?: PitchRange;
  /**
   * What sounds without a pitch is left out beside a backing, whose leftovers have none; elsewhere it is kept: of 78
   * such plucks of a cross-validated run, mostly heavily distorted low strings, 71 were named rightly by their
   * spectrum, and 5 were none.
   */
  readonly pitchless?: 'kept' | 'dropped';
  readonly weights?: PitchWeights;
}

/**
 * Names the pitch of each accepted onset, from its attack to the next. What sounds at a pitch that the instrument
 * does not have is no note, and cuts none short; one semitone beyond its range is left for the take's tuning to tell.
 */
export function nameNotes(
  analysis: Analysis,
  accepted: readonly Accepted[],
  options: NamingOptions = {},
): NamedNote[] {
  const { range = EVERY_PITCH, pitchless = 'dropped', weights = PITCH_WEIGHTS } = options;
  const { take, pitch } = analysis;
  const named: NamedNote[] = [];
  const spans = accepted.map((one, i) => ({
    at: one.possible.attack.at,
    until: accepted[i + 1]?.possible.attack.at ?? take.samples.length,
  }));
  const scored: { readonly at: number; readonly until: number; readonly scores: Float64Array }[] = [];
  const pieces = spans.map(({ at, until }) => scoredPieces(at, until));
  for (const spectra of createSpectra().of(take.samples, pieces)) {
    const { at, until } = spans[scored.length]!;
    scored.push({ at, until, scores: pitchScores(pitch, at, until, spectra, weights) });
  }
  const answers = answersInLine(scored, pitch, range, weights);
  const within = accepted.filter((_, i) => answers[i]!.beyond < BEYOND);
  if (within.length < accepted.length) return nameNotes(analysis, within, options);
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
