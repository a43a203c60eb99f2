import { isPitched } from '../../music/kinds.ts';
import type { TestKind } from '../../music/score.ts';
import { partEstimates } from './estimate.ts';
import type { PartEstimate } from './estimate.ts';
import type { Knowledge } from './knowledge.ts';
import { partsOf } from './parts.ts';
import type { NoteSets } from './predict.ts';
import type { Channel } from './types.ts';

/**
 * What a test is worth: the parts it brings, each by how weak it is, how much of the tests about the present
 * level hangs on it, and whether it is due. The settings below moved what simulated students gained by no
 * more than chance (32 students each, ± 0.4 notes of 100) except where said; they are round numbers.
 */

/** A part that is still surely weak is due again after two tests at most, however lucky it was lately. */
const WEAK_WAIT = 2;
/** What is not due counts for this much of what it would: it does no harm, but something due goes before it. */
const NOT_DUE = 0.7;
/** A part counts as weak under this many logits over the student's own level: 0 would count half of all noise as strength. */
const WEAK_BELOW = 0.2;
/**
 * A part could be half a standard deviation weaker than it looks; so what is little known is worth a try, and
 * is known after it (optimism where little is known: Auer, Cesa-Bianchi & Fischer 2002 (from memory)). Without it
 * students gained 0.3 notes of 100 less.
 */
const DOUBT = 0.5;
/** Tests of an easier level count for this much in what hangs on a part: the way leads up. */
const EASIER_SHARE = 0.3;
/** A fourth note with one part adds half of what the first did (4^0.75 − 3^0.75 = 0.55): variety. Linear cost 0.5. */
const MANY_NOTES = 0.75;
/**
 * Notes that one phrase can teach: what is held in memory after two hearings (7 ± 2: Miller 1956 (from memory)),
 * and twice the notes take twice the time. Without it long phrases of little use are chosen: 0.7 less gained.
 */
const HELD_NOTES = 8;

/** One part of a kind, and how much a note of it is wanted. */
export interface Wanted extends PartEstimate {
  /** Place in its channel's list. */
  readonly bit: number;
  readonly due: boolean;
  /** ≥ 0; only comparisons mean something. */
  readonly want: number;
}

/** A test that might be chosen, as far as wants go. */
export interface Material {
  readonly level: number;
  readonly sets: readonly NoteSets[];
  /** Chance of each note, pitch (1 where it is not asked) and time. */
  readonly chances: readonly { readonly pitch: number; readonly time: number }[];
}

/** Over the notes of `material`: how much one logit more of a part would lift a note's chance, by its place. */
function lifts(material: readonly Material[], present: number): Readonly<Record<Channel, Float64Array>> {
  const lift = { pitch: new Float64Array(31), time: new Float64Array(31) };
  let total = 0;
  for (const { level, sets, chances } of material) {
    const share = level < present ? EASIER_SHARE : 1;
    sets.forEach((set, n) => {
      const { pitch, time } = chances[n]!;
      total += share;
      // d(pitch·time)/dη of the one channel.
      const slope = { pitch: share * time * pitch * (1 - pitch), time: share * pitch * time * (1 - time) };
      for (const channel of ['pitch', 'time'] as const)
        for (let bit = 0, left = set[channel]; left; bit++, left >>= 1)
          if (left & 1) lift[channel][bit]! += slope[channel];
    });
  }
  for (const channel of [lift.pitch, lift.time]) channel.forEach((sum, bit) => (channel[bit] = sum / total));
  return lift;
}

/** How much a note of each part of the kind is wanted: weakness², times the root of what hangs on it. */
export function wanted(
  known: Knowledge,
  kind: TestKind,
  material: readonly Material[],
  present: number,
): Wanted[] {
  const lift = lifts(material, present);
  return partEstimates(known.estimate)
    .filter(({ channel }) => isPitched(kind) || channel === 'time')
    .map((one) => {
      const { channel, effect, effectSd } = one;
      const bit = partsOf(channel).indexOf(one.part);
      const { wait, since } = known.returns[channel][bit]!;
      const sure = effect + effectSd < 0;
      const due = since + 1 >= (sure ? Math.min(WEAK_WAIT, wait) : wait);
      const weakness = Math.max(0, WEAK_BELOW - effect + DOUBT * effectSd);
      const want = weakness ** 2 * Math.sqrt(lift[channel][bit]!);
      return { ...one, bit, due, want: due ? want : NOT_DUE * want };
    });
}

/** How much of what is wanted a test brings, and the due, weak part that makes up most of it (null: none). */
export function practiceGain(
  sets: readonly NoteSets[],
  wants: readonly Wanted[],
): { sum: number; most: Wanted | null } {
  let sum = 0;
  let most: Wanted | null = null;
  let mostBy = 0;
  for (const one of wants) {
    if (one.want === 0) continue;
    let notes = 0;
    for (const set of sets) notes += (set[one.channel] >> one.bit) & 1;
    const by = one.want * notes ** MANY_NOTES;
    sum += by;
    if (one.due && one.seen > 0 && one.effect < 0 && by > mostBy) [most, mostBy] = [one, by];
  }
  return { sum: sum * Math.min(1, HELD_NOTES / sets.length), most };
}
