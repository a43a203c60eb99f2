import type { HeardChords } from '../../music/chords/index.ts';
import type { HeardTake } from '../../music/notes.ts';
import type { BeatWish } from '../track/types.ts';
import type { FoundBeats, MeasuredTrip } from '../../dsp/index.ts';
import type { Measured } from '../render/level.ts';
import type { ChordsRequest } from '../types.ts';
import type { ListenInput } from './listen.ts';

export type EarJob = { readonly id: number } & (
  | { readonly type: 'listen'; readonly input: ListenInput }
  | { readonly type: 'chords'; readonly input: ChordsRequest }
  | {
      readonly type: 'beats';
      readonly samples: Float32Array<ArrayBuffer>;
      readonly sampleRate: number;
      readonly wish: BeatWish;
    }
  | {
      readonly type: 'stretch';
      readonly samples: Float32Array<ArrayBuffer>;
      readonly sampleRate: number;
      readonly stretch: number;
    }
  | { readonly type: 'measure'; readonly samples: Float32Array<ArrayBuffer>; readonly sampleRate: number }
  | {
      readonly type: 'findProbe';
      readonly samples: Float32Array<ArrayBuffer>;
      readonly sentAt: number;
      readonly sampleRate: number;
    }
);

export interface EarAnswer {
  readonly id: number;
  readonly body:
    | { readonly type: 'progress'; readonly share: number }
    | { readonly type: 'heard'; readonly take: HeardTake }
    | { readonly type: 'chords'; readonly chords: HeardChords }
    | { readonly type: 'measured'; readonly measured: Measured }
    | { readonly type: 'trip'; readonly trip: MeasuredTrip | null }
    | { readonly type: 'foundBeats'; readonly beats: FoundBeats | null }
    | { readonly type: 'stretched'; readonly samples: Float32Array<ArrayBuffer> }
    | { readonly type: 'failed'; readonly message: string };
}
