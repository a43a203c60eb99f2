import { applyMap, BLEED_RATE, coarseMap, LEAST_SURENESS, refineMap, ROOM_TAPS } from './align.ts';
import { energy, plus } from './arithmetic.ts';
import { convolve } from './convolve.ts';
import { segmentLags, type Lag } from './segmentLags.ts';
import { isLong, sparser } from './stretch.ts';
import { updateOnTake } from './takeUpdate.ts';
import { median } from '../../music/numbers.ts';
import { lagAt, type TimeMap } from './timeMap.ts';
import { resample } from './warp.ts';

/** The take with the backing taken out. All signals mono at `rate`. */
export interface Cancelled {
  readonly rate: number;
  /** The take: what is left of the recording from `fromSec` on. */
  readonly left: Float64Array;
  /** The bleed that was taken out, same span: where to expect leftovers. */
  readonly bleed: Float64Array;
  /** What the microphone gave, same span and rate. */
  readonly heard: Float64Array;
  /** Loudspeaker to microphone and through the machine, at the start of the take. */
  readonly delayMs: number;
  /** Recording clock against playing clock: + if the recording's lag grows. */
  readonly driftPpm: number;
  /** Energy of the take before over after, dB. Counts the guitar in: a floor of what was reached. */
  readonly cancellationDb: number;
  /** Power of the bleed over what is left, dB: + means that the backing was louder than the player. */
  readonly bleedDb: number;
}

/** Shorter training than this (a count-in and one hearing of the shortest test) is not learnt from. */
const LEAST_TRAINING_SEC = 4;
/**
 * Bleed weaker than this against what is left needs no second look, and the update would eat guitar: at −10 dB
 * two scenes fell from 11 to 6 dB of true cancellation by it, at 0 dB three rose by 2 to 9 dB.
 */
const UPDATE_ABOVE_DB = -6;

const ratioDb = (a: number, b: number): number => 10 * Math.log10((a + 1e-20) / (b + 1e-20));

/**
 * Takes the known backing out of a recording.
 *
 * @param recording microphone from the hearing's start to the take's end, mono, `sampleRate`.
 * @param reference what was sent out over the same span on the same counter, mono, same rate.
 * @param fromSec where the take starts in the recording; what lies before is learnt from.
 * @returns null when no backing can be found in the recording (headphones): hear it as it is.
 * @throws RangeError when lengths differ by more than a second or `fromSec` lies outside.
 *
 * After the chain of a feasibility study: weighted GCC for delay, drift and jumps; least-squares room;
 * Theil–Sen drift refinement; re-alignment and robust correction on the take. Differences: jumps are
 * found in the whole recording, the Toeplitz system is solved by conjugate gradients, 0.3 s of room.
 */
export function cancelBacking(
  recording: ArrayLike<number>,
  reference: ArrayLike<number>,
  sampleRate: number,
  fromSec: number,
  onProgress: (share: number) => void = () => {},
): Cancelled | null {
  if (!(fromSec >= 0 && fromSec * sampleRate < recording.length))
    throw new RangeError(
      `the take must start inside the recording (0 … ${(recording.length / sampleRate).toFixed(2)} s), got ${fromSec}`,
    );
  const heardAll = resample(recording, sampleRate, BLEED_RATE);
  const sentAll = resample(reference, sampleRate, BLEED_RATE);
  onProgress(0.15);
  const coarse = coarseMap(heardAll, sentAll);
  if (!coarse) return null;
  onProgress(0.3);
  const from = Math.round(fromSec * BLEED_RATE);
  const until = from >= LEAST_TRAINING_SEC * BLEED_RATE ? from : heardAll.length;
  const refined = refineMap(heardAll, sentAll, jumpingAt(from, coarse.map), until);
  onProgress(0.65);

  const { room } = refined;
  // The room needs what was sent before the take as well.
  const lead = Math.max(0, from - ROOM_TAPS);
  const through = (map: TimeMap): { sent: Float64Array; predicted: Float64Array } => {
    const sent = applyMap(sentAll, map, heardAll.length, lead);
    return { sent, predicted: convolve(sent, room).subarray(from - lead) };
  };
  const found = through(refined.map);
  const map = realignOnTake(heardAll.subarray(from), found.predicted, refined.map, from);
  const { sent, predicted } = map === refined.map ? found : through(map);
  const heard = heardAll.subarray(from);
  const left = plus(heard, predicted, -1);
  // A true prediction takes energy out of a take that it was not learnt on; a chance one adds some.
  if (until === from && energy(left) > energy(heard)) return null;
  onProgress(0.8);
  if (ratioDb(energy(predicted), energy(left)) > UPDATE_ABOVE_DB) {
    updateOnTake(left, sent.subarray(from - lead), predicted, BLEED_RATE);
  }
  onProgress(1);
  return {
    rate: BLEED_RATE,
    left,
    bleed: predicted,
    heard,
    delayMs: (lagAt(map, from) / BLEED_RATE) * 1000,
    driftPpm: map.drift * 1e6,
    cancellationDb: ratioDb(energy(heard), energy(left)),
    bleedDb: ratioDb(energy(predicted), energy(left)),
  };
}

/** A jump is found to within half a stretch; one near the start of the take, where the microphone begins anew, is there. */
const NEAR_SEC = 0.8;
const jumpingAt = (from: number, map: TimeMap): TimeMap => ({
  ...map,
  jumps: map.jumps.map((jump) =>
    Math.abs(jump.at - from) < NEAR_SEC * BLEED_RATE ? { ...jump, at: from } : jump,
  ),
});

/** A glitch just before the take, or a microphone moved since the hearing, shifts the bleed by less than this. */
const USUAL_SHIFT_SEC = 0.03;
/** And this a microphone's buffer may drop when its stream begins. */
const MOST_SHIFT_SEC = 0.06;

/** Looks on the take for the bleed around where it should be, and follows if it is more than a sample off and sure. */
function realignOnTake(heard: Float64Array, predicted: Float64Array, map: TimeMap, from: number): TimeMap {
  const within = (shiftSec: number): readonly Lag[] =>
    segmentLags(heard, predicted, {
      rate: BLEED_RATE,
      fromSec: -shiftSec,
      toSec: shiftSec,
      stretchSec: isLong(predicted.length, BLEED_RATE) ? 1.2 : 1.4,
      stepSec: 0.7 * sparser(predicted.length, BLEED_RATE),
      spreadSec: 0.001,
    }).filter((l) => l.sureness > LEAST_SURENESS);
  const usual = within(USUAL_SHIFT_SEC);
  const lags = usual.length > 0 ? usual : within(MOST_SHIFT_SEC);
  const by = median(lags.map((l) => l.lag));
  return lags.length >= 2 && Math.abs(by) > 1 ? { ...map, jumps: [...map.jumps, { at: from, by }] } : map;
}
