import type { StudioProblemCode } from '../../studio/index.ts';

/** How the studio stands, for the one quiet line. */
export interface Standing {
  readonly role: 'teacher' | 'student';
  /** Changes that the studio does not have yet. */
  readonly pending: number;
  /** When all was last sent and fetched, ms since 1970; null: never. */
  readonly seenMs: number | null;
  /** What stood in the way the last time; null: nothing. */
  readonly problem: StudioProblemCode | null;
  /** The sound of takes goes to the studio too. */
  readonly sound: boolean;
}

class StudioState {
  /** Null without a studio. */
  standing = $state.raw<Standing | null>(null);
  /** How often rows have come in since the page was opened: what shows the record reads it again. */
  arrivals = $state(0);
}

/** Small and always there; what syncs is fetched only where there is a studio. */
export const studioState = new StudioState();
