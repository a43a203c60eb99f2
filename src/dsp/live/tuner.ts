import { PitchDetector } from 'pitchy';
import { cents, hzToMidi, midi } from '../../music/units.ts';
import { HALF_RATE } from '../pitch/salience.ts';
import type { History } from './history.ts';
import type { LiveEarEvent } from './types.ts';

/** 93 ms at half rate: four periods of E1, enough for a cent; pitchy takes a quarter of a millisecond for it. */
const WINDOW = 2048;
/** Under −60 dBFS the room, not a string, would be tuned. pitchy's own level option is skewed, so it is asked here. */
const LEAST_RMS = 0.001;
const LEAST_CLARITY = 0.9;
const LOWEST_HZ = 27;
const HIGHEST_HZ = 1500;

/** Pitch of the 93 ms before half-rate sample `until` by pitchy (McLeod & Wyvill, ICMC 2005); null when nothing clear sounds. */
export function createTuner(): (half: History, until: number) => LiveEarEvent | null {
  const detector = PitchDetector.forFloat32Array(WINDOW);
  detector.minVolumeAbsolute = LEAST_RMS;
  const block = new Float32Array(WINDOW);
  return (half, until) => {
    const newest = half.view(until - WINDOW, until);
    if (newest.length < WINDOW) return null;
    block.set(newest);
    let squares = 0;
    for (let i = 0; i < WINDOW; i++) squares += block[i]! * block[i]!;
    if (!(Math.sqrt(squares / WINDOW) >= LEAST_RMS)) return null;
    const [hertz, clarity] = detector.findPitch(block, HALF_RATE);
    if (clarity < LEAST_CLARITY || hertz < LOWEST_HZ || hertz > HIGHEST_HZ) return null;
    const exact = hzToMidi(hertz);
    const nearest = Math.round(exact);
    return {
      type: 'tuner',
      midi: midi(nearest),
      cents: cents(100 * (exact - nearest)),
      clarity: Math.min(1, clarity),
    };
  };
}
