import type { Accepted } from '../decision/accept.ts';
import { noteEnd } from '../note/offset.ts';
import { createSpectra } from '../pitch/comb.ts';
import { fineMidi } from '../pitch/fineTune.ts';
import { answerFrom, COMB, meanSalience, pitchScores } from '../pitch/notePitch.ts';
import { ringingOver } from '../pitch/ringOver.ts';
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

/** Under this salience at the chosen pitch there is no pitch, and so no note. */
const LEAST_SALIENCE = 0.1;

/** Stages that an ablation leaves out. */
export interface Without {
  readonly comb?: boolean;
  readonly ringOver?: boolean;
}

/** Names the pitch of each accepted onset, from its attack to the next; what has no pitch is left out. */
export function nameNotes(
  analysis: Analysis,
  accepted: readonly Accepted[],
  without: Without = {},
): NamedNote[] {
  const { take, pitch } = analysis;
  const spectra = createSpectra();
  const named: NamedNote[] = [];
  accepted.forEach((one, i) => {
    const at = one.possible.attack.at;
    const until = accepted[i + 1]?.possible.attack.at ?? take.samples.length;
    const answer = answerFrom(
      pitchScores(take, pitch, at, until, spectra, without.comb ? 0 : COMB),
      pitch,
      at,
      until,
    );
    let { midi, salience } = answer;
    const previous = named[named.length - 1];
    if (previous && previous.midi === midi && !without.ringOver) {
      const other = ringingOver(take, previous.at, at, until, midi, spectra);
      const heard = other === null ? 0 : meanSalience(pitch, at, until, other);
      if (other !== null && heard >= LEAST_SALIENCE) {
        midi = other;
        salience = heard;
      }
    }
    if (salience < LEAST_SALIENCE) return;
    named.push({
      at,
      end: noteEnd(take, at, until),
      midi,
      fine: fineMidi(take.samples, at, until, midi),
      salience,
      margin: answer.margin,
      probability: one.probability,
      levelDb: levelBetween(take.energy, at, at + ms(50)),
    });
  });
  return named;
}
