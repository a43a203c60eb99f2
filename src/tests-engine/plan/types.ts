import type { SittingRun } from '../../music/sitting.ts';

/** What can be practised by itself: a station, or one side of a choice. */
export type UnitKind =
  'pieces' | 'scales' | 'chords' | 'reading' | 'improvising' | 'melody' | 'rhythm' | 'questions';

export interface Unit {
  readonly what: UnitKind;
  /** The station's place in the sitting, from 0. */
  readonly at: number;
  /** 1…10; null where it has none. */
  readonly level: number | null;
  /** Items that make its mark. */
  readonly count: number;
  /** The teacher's, 0: none. */
  readonly weight: number;
}

/** One thing that was played as in an exam. */
export interface Evidence {
  readonly what: UnitKind;
  readonly level: number | null;
  /** Device clock, ms since 1970. */
  readonly atMs: number;
  /** 0…100; null where it was told and not marked. */
  readonly mark: number | null;
}

/** A sitting that is over. */
export interface KeptRun {
  readonly atMs: number;
  readonly run: SittingRun;
}
