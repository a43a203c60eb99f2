import { findAttacks, type Attack } from '../onsets/attack.ts';
import { ms, WORK_RATE, type Prepared } from '../signal/prepared.ts';
import { BLEED_RATE } from './align.ts';
import { FRAME_HOP } from './expected.ts';

/** A frame must be the greatest of this many to either side: 16 ms. */
const RADIUS = 3;
/** Nats, far below any pluck: the decision comes later. */
const LOWEST = 0.015;

/** A place where a string may have been plucked over a backing. */
export interface OverPossible {
  /** Frame of the aware flux's peak. */
  readonly frame: number;
  readonly attack: Attack;
}

/** The flux rises when a pluck enters the 43 ms frame: its peak lies about 10 ms after the attack. */
const FLUX_AHEAD = ms(5);

/** Peaks of the aware flux, each with the one or two attacks that it may stand for; in order of time. */
export function overCandidates(flux: Float32Array, take: Prepared): OverPossible[] {
  const found: OverPossible[] = [];
  for (let k = 0; k < flux.length; k++) {
    const value = flux[k]!;
    if (value < LOWEST) continue;
    let peak = true;
    for (let j = Math.max(0, k - RADIUS); j <= Math.min(flux.length - 1, k + RADIUS) && peak; j++)
      if (flux[j]! > value || (flux[j] === value && j < k)) peak = false;
    if (!peak) continue;
    const around = Math.round(((k * FRAME_HOP) / BLEED_RATE) * WORK_RATE - FLUX_AHEAD);
    for (const attack of findAttacks(take.edges, Math.max(0, around))) found.push({ frame: k, attack });
  }
  return found.sort((a, b) => a.attack.at - b.attack.at);
}
