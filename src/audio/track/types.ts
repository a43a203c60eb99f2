import type { FoundBeats } from '../../dsp/index.ts';
import type { TrackSpan } from '../../music/score.ts';
import type { ReadyTrack } from './mixTrack.ts';

/** A recording that somebody brought, as the page sees it. */
export interface BroughtTrack {
  readonly id: string;
  readonly durationSec: number;
}

/** What may be said to the beat finder; as in `dsp`. */
export interface BeatWish {
  readonly beatsPerBar: number;
  readonly aroundBpm?: number;
  readonly nearSec?: number;
}

export interface Tracks {
  /** Decodes a file; null where the browser can read no sound in it. Kept in memory under its own hash. */
  bring(bytes: Uint8Array<ArrayBuffer>): Promise<BroughtTrack | null>;
  has(id: string): boolean;
  /** Tempo and first bar by listening; null where no beat is found. */
  findBeats(id: string, wish: BeatWish): Promise<FoundBeats | null>;
  ready(span: TrackSpan): Promise<ReadyTrack>;
}
