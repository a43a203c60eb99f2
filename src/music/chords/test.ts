import type { Metre } from '../score.ts';
import type { Bpm, Midi, Sec, Ticks } from '../units.ts';

/** One chord of a test. */
export interface TestChord {
  /** As it is written: "Am7", "D/F#". */
  readonly symbol: string;
  /** Frets of the shape asked for, lowest string first, null where a string is not struck; null: any voicing. */
  readonly frets: readonly (number | null)[] | null;
  /** When it is due from bar 1; null where chords are named one by one and struck when the player is ready. */
  readonly startTicks: Ticks | null;
}

/**
 * Chords that are named, and struck from memory: one by one, or as a progression in time. Small, plain JSON, complete without its
 * generator.
 */
export interface ChordTest {
  readonly version: 1;
  readonly kind: 'chords';
  readonly instrument: 'guitar' | 'bass';
  /** Sounding MIDI numbers of the open strings, lowest string first. */
  readonly tuning: readonly Midi[];
  /** Unsigned 32-bit seed, or null for a teacher's own. */
  readonly seed: number | null;
  readonly tempoBpm: Bpm;
  readonly metre: Metre;
  readonly bars: number;
  readonly chords: readonly TestChord[];
  /** What may sound overdriven: asked of the player, since sound tells only some of it. */
  readonly driven: boolean;
  /** Time to prepare, s. */
  readonly prepareSec: Sec;
  /** Style of the band that plays under a progression, drums and bass; absent: a click. */
  readonly style?: string;
  /** Names are said aloud as they fall due, by a voice that the microphone may hear; absent: they are not. */
  readonly said?: true;
}
