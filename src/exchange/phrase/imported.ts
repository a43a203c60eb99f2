import type { Metre } from '../../music/score.ts';
import type { Mode } from './modes.ts';

/** One voice as a file of another program gave it: the common ground of the importers. */
export interface ImportedPhrase {
  readonly metre: Metre;
  /** In any order; times in ticks from the first bar line. */
  readonly notes: readonly ImportedNote[];
  /** Key signature; null where the file has none. */
  readonly key: { readonly fifths: number; readonly mode: Mode } | null;
  /** Crotchets a minute; null where the file has none. */
  readonly tempoBpm: number | null;
  /** As a test has it; straight when absent. */
  readonly swing?: number;
}

export interface ImportedNote {
  readonly startTicks: number;
  readonly durationTicks: number;
  /** As it sounds. */
  readonly midi: number;
  /** Spelling of the sounding pitch; null: to be spelled from the key. */
  readonly spelling: string | null;
}
