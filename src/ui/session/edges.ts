import type { LiveEvent, Sound } from '../../audio/types.ts';
import type { Thresholds } from '../../music/outcome.ts';
import type { QuestionForm } from '../../music/question.ts';
import type { Manner, ProcedureState, Programme, Standing, Task } from '../../tests-engine/index.ts';
import type { Latency, Marked } from './types.ts';

/** Who keeps what is played. */
export interface Keeper {
  /** The count-in of a take begins: from here on there is something to lose. */
  begin(task: Task, manner: Manner, programme: Programme): void;
  /** The take was given up, or the task left before its end. */
  drop(): void;
  /** The attempt is complete, or void (then `marked` is null). Resolves when it is on the disk, or held. */
  keep(state: ProcedureState, marked: Marked | null, programme: Programme): Promise<void>;
  /** The result is no longer shown: its sound may go. */
  shown(marked: Marked | null): void;
  /** Lowest marks for the outcomes that hold now; undefined: the usual ones. */
  thresholds(programme: Programme): Thresholds | undefined;
}

/** Everything outside a session: sound, screen, record. A test hands over stand-ins. */
export interface Edges {
  /** Opens sound and microphone, which must come from a gesture; null where the microphone stays shut, and why is shown. */
  open(): Promise<Sound | null>;
  /** Shows what stands in the way of sound; throws it again where it has no name: a fault of ours must not pass in silence. */
  refused(error: unknown): void;
  onLive(listener: (event: LiveEvent) => void): () => void;
  readonly latency: { readonly now: Latency | null; learn(latency: Latency): void };
  readonly headphones: boolean;
  /** How a take is counted in; absent: spoken. */
  readonly count?: 'spoken' | 'click';
  /** How a rhythm is asked about with help. */
  readonly question: QuestionForm;
  /** Calls back before each picture until the answer is called. */
  onPicture(draw: () => void): () => void;
  keepAwake(on: boolean): void;
  /** The page went into the background. */
  onHidden(report: () => void): () => void;
  readonly keeper: Keeper;
  /** A task was begun, or is done: what comes next follows from this. */
  stands(standing: Standing): void;
  /** The player goes on from a result. */
  next(programme: Programme, last: Task): void;
}
