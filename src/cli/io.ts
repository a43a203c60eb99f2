import type { CueSheet } from '../music/score.ts';

/** A sheet as sound, as the renderer hands it over. */
export interface RenderedSound {
  readonly samples: Float32Array;
  readonly sampleRate: number;
  readonly gainDb: number;
}

/** All that a command touches of the world; tests hand in their own. */
export interface Io {
  readonly out: (text: string | Uint8Array) => void;
  /** Lines of standard input, without their ends. */
  readonly inputLines: () => AsyncIterable<string>;
  /** Says on a terminal how far a long job is, 0…1; 1 takes the words away. Absent where nobody looks. */
  readonly progress?: ((share: number) => void) | undefined;
  /** Renders sheets with one common gain, or with the gain given. Only `sound` asks for it. */
  readonly render: (sheets: readonly CueSheet[], gainDb?: number) => Promise<readonly RenderedSound[]>;
}

/** What the caller did wrong: one sentence on standard error, exit 2. */
export class UsageError extends Error {
  override name = 'UsageError';
}

/** Runs a check of something that was given; whatever it throws is the caller's mistake, said of `what`. */
export function given<T>(what: string, check: () => T): T {
  try {
    return check();
  } catch (error) {
    throw new UsageError(`${what}: ${error instanceof Error ? error.message : String(error)}`, {
      cause: error,
    });
  }
}
