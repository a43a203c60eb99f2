import type { Accepted } from '../decision/accept.ts';
import { GAP_SEC } from '../decision/accept.ts';
import type { Possible } from '../hear/analysis.ts';
import { nameNotes, type NamedNote } from '../hear/name.ts';
import type { PitchRange } from '../note/range.ts';
import { WORK_RATE } from '../signal/prepared.ts';
import { createWorkspace } from '../signal/workspace.ts';
import { energy } from './arithmetic.ts';
import type { Cancelled } from './cancel.ts';
import { expectLeftovers } from './expected.ts';
import { analyseOver, leftoverDb, type OverKnown, type OverScales } from './overAnalysis.ts';
import { placeOnset } from './placement.ts';
import { heardParts, learntStretch, type Part } from './stretch.ts';

export interface PartsHeard {
  /** In order of time; instants in samples at the working rate from the take's start. */
  readonly named: readonly NamedNote[];
  /** Probability of every candidate. */
  readonly probabilities: readonly number[];
  /** See {@link leftoverDb}. */
  readonly leftoverDb: number;
  /** By how much the masked take was scaled. */
  readonly gain: number;
}

/** The candidates that are taken for plucks, and the probability of every one. */
export type Decision = (possible: readonly Possible[]) => {
  readonly accepted: readonly Accepted[];
  readonly probabilities: readonly number[];
};

interface PartHeard extends Omit<PartsHeard, 'leftoverDb' | 'gain'> {
  readonly leftoverEnergy: number;
  readonly leftEnergy: number;
  readonly scales: OverScales;
}

/**
 * Hears what is left of a take part by part, each in the memory of the one before it: a piece of minutes needs no more of it
 * than half a minute. The part in which most is left comes first; by what it measures all are scaled. What the bleed leaves
 * is learnt where the backing is loudest.
 */
export function hearParts(cancelled: Cancelled, range: PitchRange, decide: Decision): PartsHeard {
  const { left, bleed, rate } = cancelled;
  const parts = heardParts(left.length, rate);
  if (parts.length === 1) return together([hearPart(cancelled, parts[0]!, range, decide, {})]);
  const memory = createWorkspace();
  const loudest = learntStretch(bleed, rate);
  const share = memory.use(
    () =>
      expectLeftovers(left.subarray(loudest.from, loudest.to), bleed.subarray(loudest.from, loudest.to))
        .share,
  );
  const most = parts
    .map((part) => ({ part, sum: energy(left.subarray(part.from, part.to)) }))
    .reduce((a, b) => (b.sum > a.sum ? b : a)).part;
  const hear = (part: Part, scales?: OverScales): PartHeard =>
    memory.use(() => hearPart(cancelled, part, range, decide, { share, scales }));
  const first = hear(most);
  return together(parts.map((part) => (part === most ? first : hear(part, first.scales))));
}

function hearPart(
  { left, bleed, rate }: Cancelled,
  { from, to, first, last }: Part,
  range: PitchRange,
  decide: Decision,
  known: OverKnown,
): PartHeard {
  const analysed = analyseOver(
    { left: left.subarray(first, last), bleed: bleed.subarray(first, last), rate },
    known,
  );
  const { possible, clear, masked, leftoverEnergy, leftEnergy, scales } = analysed;
  const { accepted, probabilities } = decide(possible);
  const start = (first / rate) * WORK_RATE;
  // Two parts that meet both look a little beyond: what lies where they meet must not fall between them.
  const within = ({ at }: { readonly at: number }): boolean =>
    (from === first || start + at >= (from / rate - GAP_SEC / 2) * WORK_RATE) &&
    (to === last || start + at < (to / rate + GAP_SEC / 2) * WORK_RATE);
  const named = nameNotes(masked, accepted, { range })
    .filter(within)
    // Names are read from where the note was found: there the pitch frames after it hold nothing of the one before.
    .map((note) => ({ ...note, at: start + placeOnset(clear, note.at, note.midi), end: start + note.end }));
  return {
    named,
    probabilities: probabilities.filter((_, i) => within(possible[i]!.attack)),
    ...{ leftoverEnergy, leftEnergy, scales },
  };
}

/** What the parts heard, the note on either side of a border once. */
function together(parts: readonly PartHeard[]): PartsHeard {
  const named: NamedNote[] = [];
  parts.forEach((part, i) => {
    for (const note of part.named) {
      const before = named.at(-1);
      const twice = i > 0 && before && note.at - before.at < GAP_SEC * WORK_RATE;
      if (!twice) named.push(note);
      else if (note.probability > before.probability) named[named.length - 1] = note;
    }
  });
  const sum = (of: 'leftoverEnergy' | 'leftEnergy'): number => parts.reduce((all, part) => all + part[of], 0);
  return {
    named,
    probabilities: parts.flatMap((part) => part.probabilities),
    leftoverDb: leftoverDb({ leftoverEnergy: sum('leftoverEnergy'), leftEnergy: sum('leftEnergy') }),
    gain: parts[0]!.scales.maskedGain,
  };
}
