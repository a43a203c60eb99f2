import type { Possible } from '../hear/analysis.ts';
import { WORK_RATE } from '../signal/prepared.ts';
import { FEATURES } from '../decision/features.ts';
import { BLEED_RATE } from './align.ts';
import { awareFlux } from './awareFlux.ts';
import { BINS, FRAME_HOP, type Expected } from './expected.ts';

/** Of the clean decision's features, those that leftovers of a backing do not turn around. */
const KEPT = ['logO', 'logR', 'gain50', 'gain10', 'per', 'pchg', 'level', 'nextdom', 'brk', 'cont'] as const;

/** What a decision over a backing looks at: aware flux, expected share of leftovers, and the kept ones. */
export const OVER_FEATURES = ['logAware', 'aware20', 'share', 'shareBefore', ...KEPT] as const;

const KEPT_AT = KEPT.map((name) => FEATURES.indexOf(name));
/** Keeps the logarithm from following a flux that is nothing. */
const LEAST_FLUX = 0.02;
/** The aware flux is looked for this far around the attack: its frame is 43 ms long. */
const BEFORE_SEC = 0.016;
const AFTER_SEC = 0.037;
/** 70 Hz to 11 kHz: what small loudspeakers sound and guitars have. */
const LOW_BIN = 3;
const HIGH_BIN = 470;

/** Gives the features of a candidate, in the order of {@link OVER_FEATURES}; decibels over ten. */
export function overFeatures(expected: Expected): (of: Possible) => Float64Array {
  const flux = awareFlux(expected);
  const { left, leftover } = expected;
  const frameOf = (sec: number): number => Math.round((sec * BLEED_RATE) / FRAME_HOP);
  /** Expected leftovers over what is there, dB / 10: 0 = all of it is leftovers. */
  const share = (fromSec: number, toSec: number): number => {
    let e = 0;
    let r = 0;
    const last = Math.min(left.frames - 1, frameOf(toSec));
    for (let k = Math.max(0, frameOf(fromSec)); k <= last; k++)
      for (let b = LOW_BIN; b < HIGH_BIN; b++) {
        e += left.power[k * BINS + b];
        r += leftover.power[k * BINS + b];
      }
    return Math.log10((r + 1e-12) / (e + 1e-12));
  };
  const highest = (fromSec: number, toSec: number): number => {
    let top = 0;
    for (let k = Math.max(0, frameOf(fromSec)); k <= Math.min(flux.length - 1, frameOf(toSec)); k++)
      top = Math.max(top, flux[k]);
    return top;
  };
  return (possible) => {
    const at = possible.attack.at / WORK_RATE;
    return Float64Array.of(
      Math.log(highest(at - BEFORE_SEC, at + AFTER_SEC) + LEAST_FLUX),
      Math.log(highest(at, at + 0.02) + LEAST_FLUX),
      share(at, at + 0.055),
      share(at - 0.08, at - 0.025),
      ...KEPT_AT.map((i) => possible.features[i]),
    );
  };
}
