import type { Instrument } from '../../music/score.ts';
import type { ExpectedChords, LiveEvent, Recording } from '../types.ts';

/** What the capture worklet posts: a few render quanta of every input channel. */
export interface CaptureChunk {
  /** Context frame of the first sample. */
  readonly frame: number;
  /** As many arrays as the input has channels (none when no microphone is connected), equally long. */
  readonly channels: readonly Float32Array<ArrayBuffer>[];
  readonly length: number;
}

/** From the page to the capture worker. */
export type CaptureCommand =
  | {
      readonly type: 'open';
      readonly port: MessagePort;
      readonly sampleRate: number;
      readonly instrument: Instrument;
      readonly channel: number | 'louder';
    }
  | { readonly type: 'record'; readonly fromFrame: number }
  | { readonly type: 'stop'; readonly toFrame: number }
  | { readonly type: 'expect'; readonly expected: ExpectedChords | null };

/** From the capture worker to the page. */
export type CaptureReport =
  | { readonly type: 'live'; readonly event: LiveEvent }
  | { readonly type: 'recording'; readonly recording: Recording };
