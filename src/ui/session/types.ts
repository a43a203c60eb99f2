import type { Recording } from '../../audio/types.ts';
import type { HeardTake } from '../../music/notes.ts';
import type { Task } from '../../music/task.ts';
import type { LatencySource } from '../../store/index.ts';
import type { AnyMark } from '../../tests-engine/index.ts';

/** The round trip as it is known now. */
export interface Latency {
  readonly sec: number;
  /** Half-width of what is not known. */
  readonly halfWidthSec: number;
  readonly source: LatencySource;
}

/** The take's sound, in memory only, until the result is left. */
export interface TakeSound {
  readonly recording: Recording;
  /** Sample at which beat 1 of bar 1 stands. */
  readonly zeroSample: number;
}

/** What a result shows. */
export interface Marked {
  /** The test as it was sounded: with the tempo and half of the help used. */
  readonly test: Task;
  readonly take: HeardTake;
  readonly mark: AnyMark;
  readonly latency: {
    readonly ms: number;
    readonly uncertaintyMs: number;
    readonly source: LatencySource;
  };
  readonly sound: TakeSound;
}
