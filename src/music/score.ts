import type { Arranger } from './styles.ts';
import type { Bpm, Midi, Sec, Ticks } from './units.ts';

/** What `tests-engine` writes and `audio` renders and `ui` engraves: the shared words. */

export type Instrument = 'guitar' | 'bass';
export type TestKind = 'melody' | 'rhythm';

/** A time signature; `grouping` in units of `beatUnit`, e.g. 7/8 as [2, 2, 3], 6/8 as [3, 3]. */
export interface Metre {
  readonly beats: number;
  readonly beatUnit: 2 | 4 | 8 | 16;
  readonly grouping: readonly number[];
}

/** One written note. Pitch is as it sounds; guitar and bass are engraved an octave higher. */
export interface WrittenNote {
  readonly startTicks: Ticks;
  readonly durationTicks: Ticks;
  readonly midi: Midi;
  /** Spelling of the sounding pitch in the phrase's key: letter, accidentals (`#`, `b`), octave: "Bb3". */
  readonly spelling: string;
  /** 1 = the highest string. */
  readonly string: number;
  readonly fret: number;
}

/** A phrase from its first bar line to its last. Notes are in order and never overlap. */
export interface Phrase {
  readonly metre: Metre;
  readonly bars: number;
  readonly notes: readonly WrittenNote[];
}

export interface Key {
  /** Letter and accidental: "A", "F#", "Eb". */
  readonly tonic: string;
  /** A scale's plain name as tonal knows it: "minor pentatonic", "major", "blues". */
  readonly scale: string;
}

/** Which sampled or spoken sound a cue asks for. */
export type PitchedVoice = 'guitar' | 'bassGuitar' | 'bass' | 'keys' | 'rhythmGuitar';
export type DrumPiece =
  | 'kick'
  | 'snare'
  | 'rim'
  | 'hat'
  | 'openHat'
  | 'ride'
  | 'crash'
  | 'tomHigh'
  | 'tomLow'
  | 'shaker'
  | 'clave'
  | 'congaHigh'
  | 'congaLow'
  | 'click'
  | 'clickAccent';
/** A spoken count; `&` is "and". Its vowel, not its file's start, falls on `atSec`. */
export type SpokenWord = 'one' | 'two' | 'three' | 'four' | 'five' | 'six' | 'seven' | 'and' | 'ready';

interface CueBase {
  /** When it sounds, from the start of the sheet. */
  readonly atSec: Sec;
  /** 0…1, as a MIDI velocity / 127. */
  readonly velocity: number;
}
export type Cue =
  | (CueBase & {
      readonly type: 'note';
      readonly voice: PitchedVoice;
      readonly midi: Midi;
      readonly durationSec: Sec;
      /** `phrase` = the answer being demonstrated; the mixer keeps it above the backing. */
      readonly role: 'phrase' | 'backing' | 'reference';
    })
  | (CueBase & { readonly type: 'drum'; readonly piece: DrumPiece })
  | (CueBase & { readonly type: 'speech'; readonly word: SpokenWord });

/** A named instant of a sheet; `index` counts from 0 among marks of the same label. */
export interface SheetMark {
  readonly label:
    'tonic' | 'firstNote' | 'countIn' | 'bar' | 'beat' | 'phrase' | 'takeStart' | 'takeEnd' | 'end';
  readonly index: number;
  readonly atSec: Sec;
}

/** A stretch of a recording that somebody brought: its samples are known to whoever renders the sheet. */
export interface TrackSpan {
  /** As `PieceTrack.id`. */
  readonly id: string;
  /** When it begins to sound. */
  readonly atSec: Sec;
  /** From where in the recording, on its own clock. */
  readonly fromSec: Sec;
  /** How long it sounds. */
  readonly lengthSec: Sec;
  /** 1 = as recorded; 2 = half as fast, at the same pitch. */
  readonly stretch: number;
}

/** Everything that sounds in one unbroken stretch, with its marked times; sorted by `atSec`. */
export interface CueSheet {
  readonly durationSec: Sec;
  readonly cues: readonly Cue[];
  readonly marks: readonly SheetMark[];
  /** A recording that sounds beside the cues. */
  readonly track?: TrackSpan;
}

/** A chord of the backing and the stretch of the phrase over which it stands. */
export interface ChordSpan {
  readonly startTicks: Ticks;
  readonly durationTicks: Ticks;
  /** As `music/chords` reads it: "Am7", "C/E". */
  readonly symbol: string;
}

/** What every task of written notes has: small, plain JSON, complete without its generator. */
export interface WrittenTask {
  readonly version: 1;
  readonly instrument: Instrument;
  /** Sounding MIDI numbers of the open strings, lowest string first. */
  readonly tuning: readonly Midi[];
  /** 1…10 of the kind's own ladder, or null for a teacher's own phrase. */
  readonly level: number | null;
  /** Unsigned 32-bit seed, or null for a teacher's own phrase. */
  readonly seed: number | null;
  readonly tempoBpm: Bpm;
  readonly key: Key;
  /** 0.5 = straight; 2/3 = triplet swing of the quavers. */
  readonly swing: number;
  /** What is to be played. */
  readonly phrase: Phrase;
}

/** An ear test. */
export interface PracticeTest extends WrittenTask {
  readonly kind: TestKind;
  /** Backing style, a name of `tests-engine`'s own list. */
  readonly style: string;
  /** Rhythm tests: the second written rhythm for "which did you play?", and where the true one stands. */
  readonly question: { readonly other: Phrase; readonly answer: 'A' | 'B' } | null;
  /**
   * The harmony of the backing, from the first bar line to the last without gaps, and the version of the
   * arranger that plays it. Absent in tests from before there was one: their chords are found anew.
   */
  readonly backing?: { readonly arranger: Arranger; readonly chords: readonly ChordSpan[] };
  /** Counts and lengths of the procedure that this test was set with. */
  readonly procedure: {
    readonly hearings: number;
    readonly practiceSec: Sec;
  };
}

export type MelodyTest = PracticeTest & { readonly kind: 'melody' };
export type RhythmTest = PracticeTest & { readonly kind: 'rhythm' };
