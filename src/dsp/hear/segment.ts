import { FEATURES } from '../decision/features.ts';
import { createLooks } from '../decision/looks.ts';
import { plucksOf } from '../decision/veto.ts';
import { FIRST_LOOK, SECOND_LOOK } from '../decision/weights.ts';
import type { PitchRange } from '../note/range.ts';
import { ms, REFERENCE_RMS, WORK_RATE } from '../signal/prepared.ts';
import { evidence } from '../verdict/evidence.ts';
import type { Loss } from '../verdict/losses.ts';
import { analyse } from './analysis.ts';
import type { Possible } from './analysis.ts';
import { nameNotes } from './name.ts';
import type { NamedNote } from './name.ts';
import { toWorkRate } from './toWorkRate.ts';

/** A stretch of a take, heard. */
export interface Segment {
  /** In order; times in samples at the working rate from the stretch's start, levels of the input. */
  readonly notes: readonly NamedNote[];
  /** What speaks for a plucked string, see `EVIDENCE`; null without notes. */
  readonly evidence: Float64Array | null;
  /** Where samples were lost without a trace and a pluck seemed heard, at the input's rate. */
  readonly seams: readonly number[];
  /** RMS of the loud part of the input. */
  readonly loudRms: number;
}

/**
 * Probability from which a candidate is a note. Under one half, because F1's optimum lies below it: .9784, .9780 and
 * .9769 at .15, .2 and .25 with instruments that the decision never heard.
 */
export const THRESHOLD = 0.2;
const decide = createLooks({ first: FIRST_LOOK, second: SECOND_LOOK });

/** Within so long of a lost block, samples at the working rate, no note begins unless … */
const NEAR_LOSS = ms(30);
/** … the first partials of the pitch heard after it stand higher by so much than before, and the level does; dB over ten. */
const RISEN = 0.2;
const LOUDER = 0.1;
const GROW = FEATURES.indexOf('grow');
const GAIN = FEATURES.indexOf('gain20');

/**
 * @param signal finite samples, lost blocks bridged @param sampleRate 8000…192000 Hz, else RangeError
 * @param range what the instrument can give @param losses where blocks were lost, samples of `signal`
 */
export function hearSegment(
  signal: Float32Array,
  sampleRate: number,
  range: PitchRange,
  losses: readonly Loss[] = [],
): Segment {
  const analysis = analyse(toWorkRate(signal, sampleRate));
  const { possible } = analysis;
  const decided = decide(
    possible.map((p) => p.attack.at / WORK_RATE),
    possible.map((p) => p.features),
  );
  const toWork = WORK_RATE / sampleRate;
  const atLoss = ({ attack, features }: Possible): boolean =>
    (features[GROW]! < RISEN || features[GAIN]! < LOUDER) &&
    losses.some(
      ({ at, length }) =>
        attack.at > at * toWork - NEAR_LOSS && attack.at < (at + length) * toWork + NEAR_LOSS,
    );
  const chances = decided.chances.map((chance, i) => (atLoss(possible[i]!) ? 0 : chance));
  const { accepted, seams } = plucksOf(analysis, decided, chances, THRESHOLD);
  const notes = nameNotes(analysis, accepted, { range, pitchless: 'kept' });
  const { gain } = analysis.take;
  const gainDb = 20 * Math.log10(gain);
  return {
    notes: notes.map((note) => ({ ...note, levelDb: note.levelDb - gainDb })),
    evidence: notes.length > 0 ? evidence(analysis, decided.chances, notes) : null,
    seams: seams.map((at) => Math.round(at / toWork)),
    loudRms: gain === 1 ? 0 : REFERENCE_RMS / gain,
  };
}
