import type { Heard } from '../notes.ts';
import type { ChordDoubt, ChordVerdict } from './taken.ts';
import type { Cents, Db, Sec } from '../units.ts';

/** A chord that was asked for and what was heard of it: what `dsp` answers and a mark is made from. */

export type { ChordDoubt, ChordVerdict } from './taken.ts';

/** One way to finger the chord asked for: the notes that sound, as MIDI numbers, lowest first. */
export type SoundingShape = readonly number[];

/** What was asked for. */
export type AskedChord =
  /** One of these fingerings; the mildest verdict among them counts. */
  | { readonly shapes: readonly SoundingShape[] }
  /**
   * These pitch classes (0 = C … 11 = B) in any voicing, `optional` ones being allowed to lack (a fifth in a
   * seventh chord); `bass`, where a chord names one, is the class of the lowest note.
   */
  | {
      readonly classes: readonly number[];
      readonly optional?: readonly number[];
      readonly bass?: number | null;
    };

/** Evidence for one candidate note. */
export interface NoteEvidence {
  readonly midi: number;
  readonly asked: boolean;
  /** Log-odds that this very note sounds, from the fitted network. */
  readonly logOdds: number;
  /** Level against the strum's reference, dB; −60 where nothing was fitted. */
  readonly levelDb: number;
}

/** Evidence for one pitch class, asked for or not. */
export interface ClassEvidence {
  readonly pitchClass: number;
  readonly asked: boolean;
  /** Probability, 0…1, that the class sounds; calibrated on instruments that the network was not fitted on. */
  readonly probability: number;
  readonly logOdds: number;
}

/** What is claimed of a strum. Octaves, strings and doublings are never claimed. */
export interface ChordFindings {
  /** Classes asked for that do not sound. */
  readonly missing: readonly number[];
  /** Classes that sound and were not asked for. */
  readonly foreign: readonly number[];
  /** A chord note sounding under the bass asked for: another bass. MIDI, or null. */
  readonly lowerNote: number | null;
  /** The bass asked for does not sound. */
  readonly bassSilent: boolean;
  /** Much is missing and much is foreign: another chord altogether. */
  readonly another: boolean;
}

export interface JudgedChord {
  readonly verdict: ChordVerdict;
  readonly doubt: ChordDoubt | null;
  readonly findings: ChordFindings;
  readonly classes: readonly ClassEvidence[];
  readonly notes: readonly NoteEvidence[];
  /** Index of the shape that explains the strum best; null where classes were asked for. */
  readonly shape: number | null;
  /** The whole instrument against A4 = 440 Hz, −60…+60: past ±50 where it so reads as what was asked. */
  readonly tuningCents: Cents;
  readonly driven: boolean;
}

/** A stroke over one or more strings. Times count from the first sample given. */
export interface Strum {
  /** t₁: the first string. */
  readonly firstSec: Sec;
  /** t₆: the strum is within 6 dB of its full brightness. Last strings can't be timed: beats look like attacks. */
  readonly fullSec: Sec;
  /** The next stroke, the hand, or the end: until then the chord can be looked at. */
  readonly untilSec: Sec;
  /** RMS level over the first 100 ms, dBFS. */
  readonly levelDb: Db;
}

/** A strum with its verdict as each chord that it may answer, by index into what was asked. */
export interface StrumAnswers extends Strum {
  readonly as: ReadonlyMap<number, JudgedChord>;
}

/** A take of chords after listening. Times count from the first sample given. */
export interface HeardChords {
  readonly strums: readonly StrumAnswers[];
  readonly heard: Heard;
}
