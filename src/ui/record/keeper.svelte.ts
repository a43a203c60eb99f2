import type { Attempt, Draft, Help, Student } from '../../store/index.ts';
import type { Thresholds } from '../../music/outcome.ts';
import { countsIn, heldBack, isRight } from '../../music/question.ts';
import {
  setQuestion,
  type AnyMark,
  type Help as HelpUsed,
  type Manner,
  type ProcedureState,
  type Programme,
  type Task,
} from '../../tests-engine/index.ts';
import { LISTENER_VERSION } from '../../audio/listenerVersion.ts';
import type { Keeper } from '../session/edges.ts';
import type { Marked } from '../session/types.ts';
import type { Disk } from './disk.svelte.ts';
import { squeeze } from './squeeze.ts';
import { countHelp, type Unsaved } from './unsaved.ts';
import type { UnsavedTakes } from './unsavedTakes.svelte.ts';

const SOUND_LIMIT = 'soundLimitMb';
/** A take is half a megabyte at most: some four hundred of them. */
const USUAL_SOUND_MB = 200;

const HELP: Readonly<Record<HelpUsed['kind'], Help>> = {
  repeat: 'repeat',
  again: 'repeat',
  firstNote: 'first-note',
  slower: 'slower',
  half: 'halves',
};

export interface KeeperEdges {
  readonly disk: Pick<Disk, 'use' | 'isHopeless'>;
  readonly unsaved: Pick<UnsavedTakes, 'add'>;
  /** Who plays now; null where several could and nobody was chosen. */
  player(): Promise<Student | null>;
  /** The one chosen, where the record cannot be asked. */
  chosen(): Student | null;
  usualThresholds(): Thresholds;
  /** Whether a wrong answer holds the outcome back in this manner. */
  counts(manner: Manner): boolean;
  /** A new id of the record, 32 hexadecimal digits. */
  newId(): string;
  /** Device clock, ms since 1970. */
  now(): number;
  /** Resolves when the page is on screen. */
  visible(): Promise<void>;
  /** There is something to lose now: the browser is asked to keep it. */
  askToKeep(): void;
}

/** The homework that a task was set in. */
const homeworkOf = (programme: Programme): string | null =>
  programme.from === 'homework' ? programme.homeworkId : null;

/** The session's keeper: a take from its count-in to the attempt on the disk. */
export class TakeKeeper implements Keeper {
  /** Attempt written last, for the result screen. */
  last = $state.raw<Attempt | null>(null);
  readonly #edges: KeeperEdges;
  /** The result on the screen; of all else the sound has left memory. */
  #shown: Marked | null = null;
  #draft: Promise<Draft | null> | null = null;

  constructor(edges: KeeperEdges) {
    this.#edges = edges;
  }

  thresholds(programme: Programme): Thresholds {
    const set = programme.from === 'homework' ? programme.thresholds : null;
    return set ?? this.#edges.usualThresholds();
  }

  begin(test: Task, manner: Manner, programme: Programme): void {
    const { disk } = this.#edges;
    const begin = ({ id: studentId }: Student) =>
      disk.use((store) =>
        store.attempts.begin({ studentId, homeworkId: homeworkOf(programme), test, manner }),
      );
    this.#draft = this.#edges.player().then((student) => (student ? begin(student) : null));
  }

  /** Forgets a take that was given up or void, once the user is there to see so: a page that closes hides first. */
  async #abandon(): Promise<void> {
    const begun = this.#draft;
    this.#draft = null;
    await this.#edges.visible();
    const draft = await begun;
    if (draft) await this.#edges.disk.use((store) => store.attempts.abandon(draft.id));
  }

  drop(): void {
    void this.#abandon();
  }

  shown(marked: Marked | null): void {
    this.#shown = marked;
  }

  async keep(state: ProcedureState, marked: Marked | null, programme: Programme): Promise<void> {
    this.last = null;
    this.#shown = marked;
    if (!marked || state.take.status === 'void') return void this.#abandon();
    // Where nothing can ever be kept the result says so, and nothing piles up.
    if (await this.#edges.disk.isHopeless()) return;
    const draft = await this.#draft;
    this.#draft = null;
    // Whoever played when the take began, though another be chosen meanwhile in another tab.
    const studentId =
      draft?.studentId ?? (await this.#edges.player())?.id ?? this.#edges.chosen()?.id ?? null;
    await this.#edges.unsaved.add({
      id: this.#edges.newId(),
      atMs: this.#edges.now(),
      draftId: draft?.id ?? null,
      studentId,
      attempt: this.#attempt(state, marked, programme),
      marked,
      never: false,
    });
  }

  #attempt(state: ProcedureState, marked: Marked, programme: Programme): Unsaved['attempt'] {
    const live = state.manner === 'relaxed' ? (['live-note'] as const) : [];
    return {
      homeworkId: homeworkOf(programme),
      test: marked.test,
      manner: state.manner,
      help: countHelp([...live, ...state.help.map(({ kind }) => HELP[kind])]),
      take: marked.take,
      zeroSec: 0,
      latency: Number.isFinite(marked.latency.uncertaintyMs) ? marked.latency : null,
      listenerVersion: LISTENER_VERSION,
      mark: marked.mark,
      thresholds: this.thresholds(programme),
      answer: state.answer,
      ...(state.answer !== null && this.#counts(state.manner, programme)
        ? { answerCounts: true as const }
        : {}),
    };
  }

  /** Whether a wrong answer counts: as the homework says, else as here. */
  #counts(manner: Manner, programme: Programme): boolean {
    const set = setQuestion(programme);
    return set ? countsIn(set.counts, manner) : this.#edges.counts(manner);
  }

  /** A take's mark as it counts now that its question is answered; it may not be in the record yet. */
  counted(
    { mark, test }: Marked,
    { manner, answer }: Pick<ProcedureState, 'manner' | 'answer'>,
    programme: Programme,
  ): AnyMark {
    const wrong = answer !== null && 'question' in test && isRight(test, answer) === false;
    return wrong && this.#counts(manner, programme) ? heldBack(mark) : mark;
  }

  /** A take is in the record now: what is on the screen becomes the last attempt, with its sound where that is kept. */
  written(attempt: Attempt, marked: Marked): void {
    if (this.#shown !== marked) return;
    this.last = attempt;
    void this.#keepSound(attempt.id, marked);
  }

  /** The last attempt was given to another student; null: it is no longer in the record. */
  changed(attempt: Attempt | null): void {
    this.last = attempt;
  }

  /** MB of sound that the user allows; 0 = none is kept, the default. */
  async soundLimitMb(): Promise<number> {
    const value = await this.#edges.disk.use((store) => store.settings.get(SOUND_LIMIT));
    return typeof value === 'number' && value >= 0 ? value : 0;
  }

  setSoundLimitMb(limit: number): Promise<unknown> {
    return this.#edges.disk.use(async (store) => {
      await store.settings.set(SOUND_LIMIT, limit);
      await store.audio.shrink(limit * 1e6);
    });
  }

  /** Sound is kept from now on: a limit that was set stays, where none was it is the usual one. */
  async allowSound(): Promise<void> {
    if ((await this.soundLimitMb()) === 0) await this.setSoundLimitMb(USUAL_SOUND_MB);
  }

  async #keepSound(attemptId: string, { sound }: Marked): Promise<void> {
    const limit = (await this.soundLimitMb()) * 1e6;
    this.#edges.askToKeep();
    if (limit <= 0) return;
    const { samples, sampleRate } = sound.recording;
    const bytes = squeeze(samples.subarray(sound.zeroSample), sampleRate);
    await this.#edges.disk.use((store) => store.audio.save(attemptId, { mime: 'audio/wav', bytes }, limit));
  }
}
