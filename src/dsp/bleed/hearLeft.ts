import type { Heard, HeardTake } from '../../music/notes.ts';
import { accept, type Accepted } from '../decision/accept.ts';
import { createTrees } from '../decision/trees.ts';
import { heardNotes } from '../hear/heardNotes.ts';
import type { Possible } from '../hear/analysis.ts';
import type { PitchRange } from '../note/range.ts';
import { REFERENCE_RMS } from '../signal/prepared.ts';
import type { Cancelled } from './cancel.ts';
import { hearParts } from './hearParts.ts';
import { OVER_FEATURES } from './overFeatures.ts';
import { OVER_TREES } from './overWeights.ts';
import { judgeOver, overFacts, type OverFacts } from './selfCheck.ts';

/** Five-fold onset F1 on 96 scenes, half of them rhythms and basses, is .967 at 0.2, .964 at 0.3, .959 at 0.4. */
const THRESHOLD = 0.3;

const decide = createTrees(OVER_TREES, OVER_FEATURES);

export interface HeardLeft extends HeardTake {
  /** By which it is decided whether the take may be marked. */
  readonly facts: OverFacts;
  /** RMS of the loud part of what the player gave, amplitude. */
  readonly loudRms: number;
}

/** The candidates that are taken for plucks, and the probability of every one. */
export function acceptOver(possible: readonly Possible[]): {
  readonly accepted: readonly Accepted[];
  readonly probabilities: readonly number[];
} {
  const chances = new Map(possible.map((p) => [p, decide(p.features)]));
  return {
    accepted: accept(possible, (p) => chances.get(p)!, THRESHOLD),
    probabilities: [...chances.values()],
  };
}

/** What is heard of an instrument in a take whose backing was taken out; times count from the take's start. */
export function hearLeft(cancelled: Cancelled, range: PitchRange): HeardLeft {
  const { named, probabilities, leftoverDb, gain } = hearParts(cancelled, range, acceptOver);
  const facts = overFacts(probabilities, named, leftoverDb, cancelled.bleedDb);
  const judged = judgeOver(facts);
  const heard: Heard = {
    ...judged,
    delayMs: cancelled.delayMs,
    driftPpm: cancelled.driftPpm,
    cancellationDb: cancelled.cancellationDb,
  };
  const take = heardNotes(named, gain, range);
  return {
    ...take,
    // What is heard where nobody played are leftovers of the backing: none are handed out.
    notes: judged.reason === 'backing-only' ? [] : take.notes,
    heard,
    facts,
    loudRms: REFERENCE_RMS / gain,
  };
}
