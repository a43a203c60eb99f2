import json from '../assets/manifest.json' with { type: 'json' };

/** Where a sound comes from; the licences page shows these. */
export interface SoundSource {
  readonly id: string;
  readonly title: string;
  readonly author: string;
  readonly licence: string;
  readonly licenceUrl: string;
  readonly url: string;
  /** What was done to it (CC BY asks for that). */
  readonly changes: string;
}

/** One sound inside a sound file. Times count from the first encoded sample of the file. */
export interface SampleEntry {
  /** "guitar.40", "kick", "three". */
  readonly id: string;
  readonly file: string;
  /** `SoundSource.id` */
  readonly source: string;
  readonly startSec: number;
  readonly lengthSec: number;
  /** From `startSec` to the instant that falls on the beat: the attack, or a word's first vowel. */
  readonly attackSec: number;
  /** Brings the first 400 ms to −23 LUFS: the common footing of the mixer. */
  readonly gainDb: number;
  /** MIDI number of the recorded note; null for drums and words. */
  readonly midi: number | null;
  /** How far the recording is from `midi`, cents; taken out when it is played. */
  readonly cents: number;
}

export interface SoundManifest {
  /** Sound files without ending; each is `assets/NAME.mp3`. */
  readonly files: readonly string[];
  readonly sources: readonly SoundSource[];
  readonly samples: readonly SampleEntry[];
}

/** Every sound the app plays, with its source and licence. */
export const MANIFEST: SoundManifest = json;
