/** Where the beats of a recording lie: onset strength, tempo and first bar. */
export { onsetStrength, type Strength } from './strength.ts';
export { findBeats, type BeatOrder, type FoundBeats } from './findBeats.ts';
