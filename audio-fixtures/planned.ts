/** What a take's player is told to do: one note of it. Times in seconds from the take's first sample. */
export interface PlannedNote {
  /** Instant of the attack; for a slur, the middle of the change of note. */
  readonly onsetSec: number;
  /** From onset to where the hand damps it or the next note of its string takes over. */
  readonly durationSec: number;
  /** Equal-tempered pitch, MIDI number. */
  readonly midi: number;
  /** Against an ordinary stroke, dB. */
  readonly levelDb: number;
  /** Hammered, pulled or slid: no attack of its own; the change of note takes this long. */
  readonly slurSec?: number;
  /** The string sounds on for this long after `durationSec`, under what follows. */
  readonly ringSec?: number;
  /** Cents against `midi` at a time (s) from the onset: bends and vibrato. */
  readonly bend?: (sinceOnsetSec: number) => number;
  /** Muted by the palm: amplitude falls with time constant `decaySec`, and duller. */
  readonly mute?: { readonly decaySec: number; readonly lowPassHz: number };
  /** Touched while it sounds: from `afterSec` the string falls by `dropDb` within `overSec` and sounds on. */
  readonly touched?: { readonly afterSec: number; readonly dropDb: number; readonly overSec: number };
  /** Plucked with the flesh of a finger: rises over `riseSec`, duller. */
  readonly finger?: { readonly riseSec: number; readonly lowPassHz: number };
  /** Heard in the take but no note of it: an open string brushed by a lifting finger. */
  readonly ghost?: boolean;
}

/** One note of the truth. */
export interface TrueNote {
  /** Last point 20 dB under the attack's peak of the 1 ms RMS envelope; exact to one sample. */
  readonly onsetSec: number;
  readonly offsetSec: number;
  /** Equal-tempered pitch meant, without the take's tuning offset. */
  readonly midi: number;
  /** As planned, against an ordinary stroke. */
  readonly levelDb: number;
  readonly how: 'pluck' | 'slur';
}
