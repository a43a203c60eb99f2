import type { DrumPiece, PitchedVoice } from '../../../music/score.ts';
import type { Fullness } from '../harmony/palette.ts';
import type { CellName } from '../style.ts';

/**
 * A stretch of accompaniment on a grid of semiquavers, one character a step.
 *
 * Drums and chords: `X` loud, `x` plain, `o` soft, `.` nothing. Chords and bass: `-` lets the sound ring on.
 * Bass, against the chord that stands there: `R` root, `r` soft root, `3` third, `5` fifth, `6` sixth, `7` its
 * seventh, `8` octave, `^` the root of the chord to come. Where a chord begins the bass takes its root whatever
 * the row says. Upper: `1`, `2`, `3` one voice of the chord, lowest first, an octave higher.
 */
export interface GrooveCell {
  readonly drums: Partial<Readonly<Record<DrumPiece, string>>>;
  readonly bass: string;
  readonly chords: string;
  readonly upper?: string;
}

export interface Groove {
  readonly name: string;
  readonly fullness: Fullness;
  /** Who plays the chords. */
  readonly voice: Extract<PitchedVoice, 'keys' | 'rhythmGuitar'>;
  /** Bars take turns through a metre's cells: one is heard, then its variant. */
  readonly cells: Readonly<Record<CellName, readonly GrooveCell[]>>;
  /** The bass's last stroke before a new chord leads into it by step. */
  readonly bassLeads: boolean;
  /** How strongly its chords are struck against the rest: less where they sound like the phrase's own guitar. */
  readonly chordForce: number;
  /**
   * Share of the strength of chords and bass under a melody on the guitar, whose band they share: so that the phrase is
   * at least 6 dB over them there, whatever the level (bench:material). Since arranger 3.
   */
  readonly underGuitar: number;
  /** Its chords are struck over a rhythm too, far above its string: held they would leave the bars bare. Since arranger 4. */
  readonly compsOverRhythm?: true;
  /** How strongly the style is struck, 0…1, multiplied into every velocity. */
  readonly force: number;
}
