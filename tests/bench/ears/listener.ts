import type { Take } from '../../../audio-fixtures/index.ts';
import type { Note } from '../../support/fixtures/note-metrics.ts';

/** How the instruments of all sets are tuned: open strings, MIDI numbers. */
export const STANDARD = { guitar: [40, 45, 50, 55, 59, 64], bass: [28, 33, 38, 43] } as const;

/** One answer to one take. */
export interface Answer {
  /** Pitch: the note meant (own listener, which finds the tuning itself) or the sounding pitch (the others). */
  readonly notes: readonly (Note & { readonly confidence?: number })[];
  /** Processor seconds it took. */
  readonly seconds: number;
  /** Own listener only: may the take be marked, and if not, why. */
  readonly verdict?: string;
}

/** A program that turns a take into notes. */
export interface BenchListener {
  readonly name: string;
  /** True: its pitches are judged against the note meant, false: against the sounding one. */
  readonly findsTuning: boolean;
  hear(take: Take): Promise<Answer>;
  close(): void;
}

/** Runs `work` and gives its answer with the processor seconds it took: other work on the machine does not count. */
export function timed<T>(work: () => T): { readonly value: T; readonly seconds: number } {
  const from = process.cpuUsage();
  const value = work();
  const { user, system } = process.cpuUsage(from);
  return { value, seconds: (user + system) / 1e6 };
}
