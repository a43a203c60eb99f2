import type { AskedChord, ChordVerdict, HeardChords } from '../music/chords/index.ts';
import type { MeasuredTrip } from '../dsp/index.ts';
import type { HeardTake } from '../music/notes.ts';
import type { Tracks } from './track/types.ts';
import type { CueSheet, Instrument, SheetMark } from '../music/score.ts';

export type { MeasuredTrip };

/** A cue sheet as sound: one mono buffer and the times marked in it. */
export interface Rendered {
  /** Mono, −1…1. */
  readonly samples: Float32Array<ArrayBuffer>;
  readonly sampleRate: number;
  readonly marks: readonly SheetMark[];
  /** The gain it was rendered with, dB: give it to a later render of the same test. */
  readonly gainDb?: number;
}

/** What the microphone gave between two context frames, whole. */
export interface Recording {
  readonly samples: Float32Array<ArrayBuffer>;
  readonly sampleRate: number;
  /** Context frame of the first sample, on the same counter as `Playback.startFrame`. */
  readonly startFrame: number;
  /** Frames that never arrived (a glitch), as [context frame, length]; they are zeros in `samples`. */
  readonly gaps: readonly (readonly [number, number])[];
}

/** A started buffer. It sounds from `startFrame` of the one context; nothing on the main thread times it. */
export interface Playback {
  readonly startFrame: number;
  /** Seconds into the buffer now leaving the loudspeaker (context time less output latency). */
  positionSec(): number;
  /** Ends within 10 ms without a click. */
  stop(): void;
  readonly ended: Promise<'finished' | 'stopped'>;
}

/** A browser fact or a device that stands in the way; `code` has a text and a remedy in `ui/messages.ts`. */
export type AudioProblemCode =
  | 'no-audio-worklet'
  | 'insecure-context'
  | 'permission-refused'
  | 'no-microphone'
  | 'microphone-busy'
  | 'microphone-unplugged'
  | 'context-suspended'
  | 'processing-not-off'
  | 'headset'
  | 'narrow-band'
  | 'assets-missing';

export interface MicrophoneInfo {
  readonly deviceId: string;
  readonly label: string;
  readonly channels: number;
  /** What the browser says of its own processing; all must be false. */
  readonly processing: {
    readonly echoCancellation: boolean;
    readonly noiseSuppression: boolean;
    readonly autoGainControl: boolean;
  };
  readonly problems: readonly AudioProblemCode[];
}

/** While the microphone is open: what is heard now. Provisional; never marked from. */
export type LiveEvent =
  | { readonly type: 'level'; readonly peakDb: number; readonly rmsDb: number; readonly clipped: boolean }
  | { readonly type: 'onset'; readonly atFrame: number }
  | { readonly type: 'note'; readonly atFrame: number; readonly midi: number; readonly cents: number }
  | { readonly type: 'revoked'; readonly atFrame: number }
  | { readonly type: 'tuner'; readonly midi: number; readonly cents: number; readonly clarity: number }
  /** A stroke as the chord that was expected; about half a second after it. `asked` counts in what was expected. */
  | {
      readonly type: 'chord';
      readonly atFrame: number;
      readonly asked: number;
      readonly verdict: ChordVerdict;
      readonly missing: readonly number[];
      readonly foreign: readonly number[];
    }
  | { readonly type: 'problem'; readonly code: AudioProblemCode };

export interface MeasureOptions {
  /** Ends it early; the answer is null then. */
  readonly signal?: AbortSignal;
  /** Called when the sound has been started. */
  readonly onPlayback?: (playback: Playback) => void;
}
export interface LoopbackOptions extends MeasureOptions {
  /** The user has just said that the headphones are off their head: nothing sounds without. */
  readonly headphonesOff: true;
}
export interface NotesOptions extends MeasureOptions {
  readonly instrument: Instrument;
}

export interface ListenRequest {
  readonly recording: Recording;
  readonly instrument: Instrument;
  /** Sounding MIDI numbers of the open strings: no note is heard that the instrument cannot give. Absent: any tuning. */
  readonly tuning?: readonly number[];
  /** Context frame that counts as time 0 of the notes. */
  readonly zeroFrame: number;
  /** What went to the loudspeaker, on the same counter, for cancelling; null with headphones. */
  readonly reference: { readonly samples: Float32Array<ArrayBuffer>; readonly startFrame: number } | null;
  readonly onProgress?: (share: number) => void;
}

export interface ChordsRequest extends Pick<ListenRequest, 'recording' | 'zeroFrame' | 'reference'> {
  /** Sounding MIDI numbers of the open strings. */
  readonly tuning: readonly number[];
  /** What is asked, and when a strum may answer it, seconds from the zero frame. */
  readonly asked: readonly { readonly chord: AskedChord; readonly fromSec: number; readonly toSec: number }[];
  /** When strokes are due, seconds from the zero frame. */
  readonly expectedSec: readonly number[];
  /** Does the player play overdriven? null: not asked. */
  readonly driven: boolean | null;
  /** Strokes come as the player likes: each counts for itself. */
  readonly free?: true;
}

/** Chords that strokes at the microphone are held against while they ring. */
export interface ExpectedChords {
  /** And the context frames between which a stroke may answer each. */
  readonly asked: readonly {
    readonly chord: AskedChord;
    readonly fromFrame: number;
    readonly toFrame: number;
  }[];
  /** The lowest open string, MIDI. */
  readonly lowest: number;
  /** Does the player play overdriven? null: not asked. */
  readonly driven: boolean | null;
}

/** How much louder (softer below 0) than mixed, dB, −18…6: the backing with its drums, and what is to be played. */
export interface Balance {
  readonly backingDb: number;
  readonly melodyDb: number;
}

/** The one AudioContext and all that hangs on it. Made by `openSound()` after a user gesture. */
export interface Sound {
  readonly sampleRate: number;
  /** The context's frame counter now, as far as the page sees it (a hardware buffer behind at most). */
  readonly frame: number;
  readonly state: 'running' | 'suspended' | 'closed';
  /** Recordings that the player brings; they never leave the page. */
  readonly tracks: Pick<Tracks, 'bring' | 'has' | 'findBeats'>;
  resume(): Promise<void>;
  /** Fetches and decodes the samples; the first render waits for it. */
  preload(): Promise<void>;
  /**
   * How loud the player wants the parts; every later render follows it. What sounds is what is rendered, so the
   * backing is taken out of a take as before.
   * @throws RangeError outside −18…6 dB
   */
  setBalance(balance: Balance): void;
  readonly balance: Balance;
  /** One sheet, at −23 LUFS on its own; or with the gain of another part of the same test. */
  render(sheet: CueSheet, options?: { readonly gainDb?: number }): Promise<Rendered>;
  /**
   * The sheets of one test (hearing, performance) with one common gain: together −23 LUFS, the backing as loud
   * in each. Prefer it to `render` wherever a test has more than one sheet.
   */
  renderTogether(sheets: readonly CueSheet[]): Promise<readonly Rendered[]>;
  play(
    rendered: Pick<Rendered, 'samples' | 'sampleRate'>,
    options?: { readonly fromSec?: number; readonly gainDb?: number },
  ): Playback;
  /** Round trip as far as the browser reports it: an estimate, seconds, with its half-width. */
  reportedLatency(): { readonly sec: number; readonly halfWidthSec: number };
  /** Plays a buffer and records it with what comes after (0.6 s) on the one frame counter; null when given up. */
  playAndRecord(
    rendered: Pick<Rendered, 'samples' | 'sampleRate'>,
    options?: MeasureOptions,
  ): Promise<{ readonly recording: Recording; readonly startFrame: number } | null>;
  /**
   * Plays 1.4 s of a soft gliding tone (−24 dBFS RMS, faded in) and finds it in what the open microphone gives: an
   * earcup held to it. null: not surely heard.
   * @throws TypeError before anything sounds where `headphonesOff` is not true
   */
  measureLoopback(options: LoopbackOptions): Promise<MeasuredTrip | null>;
  /** Plays clicks; a note is to be played with each that is marked `beat` (3 to 8). null: not surely heard. */
  measureWithNotes(clicks: Rendered, options: NotesOptions): Promise<MeasuredTrip | null>;

  devices(): Promise<readonly { readonly deviceId: string; readonly label: string }[]>;
  openMicrophone(options: {
    readonly deviceId?: string;
    readonly channel?: number | 'louder';
    readonly instrument: Instrument;
  }): Promise<MicrophoneInfo>;
  closeMicrophone(): void;
  readonly microphone: MicrophoneInfo | null;
  /** Subscribes to what is heard now; returns the unsubscriber. */
  onLive(listener: (event: LiveEvent) => void): () => void;
  /** From now on strokes at the open microphone are told as these chords (a live event each); null: no longer. */
  expectChords(expected: ExpectedChords | null): void;
  /** From now on blocks are kept, in memory only, until `stopRecording`. */
  startRecording(): void;
  stopRecording(): Promise<Recording>;
  /** Hears a recording in a worker. */
  listen(request: ListenRequest): Promise<HeardTake>;
  /** Hears the chords of a recording in a worker. */
  listenChords(request: ChordsRequest): Promise<HeardChords>;
  close(): Promise<void>;
}
