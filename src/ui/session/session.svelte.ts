import type { LiveEvent, Rendered, Sound } from '../../audio/types.ts';
import {
  handlerOf,
  markTask,
  setQuestion,
  startTask,
  step,
  wasHeard,
  type Manner,
  type ProcedureCommand,
  type ProcedureEvent,
  type ProcedureState,
  type Programme,
  type SheetName,
  type SheetOptions,
  type Task,
} from '../../tests-engine/index.ts';
import { written } from '../../music/task.ts';
import type { Edges } from './edges.ts';
import { watch } from './guards.ts';
import { hearTake } from './hearTake.ts';
import { latencyToKeep, unknownMs } from './latency.ts';
import { mayBePlayers } from './ownSound.ts';
import { Playing, SheetShelf } from './playing.ts';
import { PracticeClock } from './practiceClock.svelte.ts';
import type { Marked } from './types.ts';

/** Steps in which the page shows only what the player needs. */
const OFF_STAGE = ['result', 'left'];

/** Steps of a take, from its count-in on. */
const TAKING = ['countIn', 'take'];

/** Steps that may be broken off without cost. */
const BEFORE_TAKE = ['ready', 'hearing', 'practice'];

/** A take without a sheet runs until the player ends it; its clock is only a bound. */
const isOpenTake = ({ step, plan, at }: ProcedureState): boolean => {
  const planned = plan[at];
  return step === 'take' && planned?.does === 'play' && planned.sheet === null;
};

/**
 * One test being taken: hands events to the procedure and carries out what it commands. All rules are the
 * procedure's; all sound is audio's; what is left here is the wiring.
 */
export class Session {
  test = $state.raw<Task | null>(null);
  state = $state.raw<ProcedureState | null>(null);
  marked = $state.raw<Marked | null>(null);
  /** Seconds into the sheet that sounds, or null in silence. */
  positionSec = $state<number | null>(null);
  /** The player's note as it is heard now, or null; over loudspeakers only while the app is silent. */
  liveMidi = $state<number | null>(null);
  /** The stroke that was answered last while it rang, with help; null: none since the take began. */
  liveChord = $state.raw<Extract<LiveEvent, { type: 'chord' }> | null>(null);
  /** 0…1 while the take is heard through. */
  progress = $state(0);
  preparing = $state(false);
  readonly practice = new PracticeClock();

  /** Where the task came from. */
  programme = $state.raw<Programme>({ from: 'start' });
  /** True while a finished attempt is being written: the result waits for it. */
  storing = $state(false);

  readonly #edges: Edges;
  #sound: Sound | null = null;
  #player: Playing | null = null;
  #shelf: SheetShelf | null = null;
  #guard: ReturnType<typeof watch> | null = null;
  #endPictures: (() => void) | null = null;
  #endNames: (() => void) | null = null;
  #takeStart: { frame: number } | null = null;
  #recording: ReturnType<Sound['stopRecording']> | null = null;
  #run = 0;

  constructor(edges: Edges) {
    this.#edges = edges;
  }

  /** True from the first sound of a test to its result. */
  get playing(): boolean {
    return this.state !== null && !OFF_STAGE.includes(this.state.step);
  }

  /** Nothing is told of the take: it was void, or could not be heard well enough. */
  get unmarked(): boolean {
    return this.state?.take.status === 'void' || (this.marked !== null && !wasHeard(this.marked.mark));
  }

  /** What going on and turning back do at the result: a take without a mark is played again first of all. */
  get atResult(): { readonly onward: ProcedureEvent; readonly back: ProcedureEvent } {
    const [next, again] = [{ type: 'goOn' }, { type: 'back' }] as const;
    return this.unmarked ? { onward: again, back: next } : { onward: next, back: again };
  }

  /** The test with the tempo and half that now hold. */
  get sounded(): Task | null {
    const { test, state } = this;
    if (!test || !state) return test;
    return handlerOf(test).sounded(test, { tempoFactor: state.tempoFactor, half: state.half });
  }

  get marks() {
    return this.#player?.marks ?? [];
  }

  /**
   * Prepares a task and starts its first step. The microphone is opened; where something stands in the way, the task
   * stays before its first step.
   */
  async begin(test: Task, manner: Manner, programme: Programme): Promise<void> {
    this.stop();
    this.programme = programme;
    this.#shelf?.clear();
    this.test = test;
    this.marked = null;
    this.state = startTask(test, {
      manner,
      count: this.#edges.count ?? 'spoken',
      question: manner === 'strict' ? 'which' : (setQuestion(programme)?.form ?? this.#edges.question),
    });
    this.#stand(false);
    await this.start();
  }

  /**
   * Starts the hearing of a test that stands at its first step: opens what is not open yet, makes its sound.
   * Does nothing while that is under way.
   */
  async start(): Promise<void> {
    if (this.preparing || this.state?.step !== 'ready') return;
    const run = this.#run;
    const current = (): boolean => run === this.#run && this.state?.step === 'ready';
    this.preparing = true;
    try {
      const sound = await this.#edges.open();
      if (!sound) return;
      this.#sound = sound;
      this.#player ??= new Playing(sound);
      this.#shelf ??= new SheetShelf(sound);
      if (!current()) return;
      const [first] = this.state.plan;
      if (first && first.does !== 'ask' && first.sheet)
        await this.#sheet(first.sheet, this.#options(this.state));
      if (!current()) return;
      this.#watch();
      this.send({ type: 'goOn' });
    } catch (error) {
      this.#edges.refused(error);
    } finally {
      if (run === this.#run) this.preparing = false;
    }
  }

  /** Gives an event to the procedure. */
  send(event: ProcedureEvent): void {
    if (!this.state) return;
    const before = this.state;
    const { state, commands } = step(before, event);
    this.state = state;
    for (const command of commands) this.#carryOut(command);
    if (TAKING.includes(state.step) && !TAKING.includes(before.step))
      this.#edges.keeper.begin(this.test!, state.manner, this.programme);
    if (before.step === 'countIn' && BEFORE_TAKE.includes(state.step)) this.#edges.keeper.drop();
    if (state.step !== 'practice' && !isOpenTake(state)) this.practice.stop();
    // A new attempt of the same test starts as the first one did.
    if (state.step === 'ready' && state.attempt !== before.attempt) {
      this.marked = null;
      void this.start();
    }
  }

  /** Out of the test from anywhere; nothing of the take is kept. */
  stop(): void {
    if (this.state && this.state.step !== 'left') this.send({ type: 'leave' });
    if (this.state) this.#edges.keeper.drop();
    this.#edges.keeper.shown(null);
    this.#run += 1;
    this.preparing = false;
    this.#unwatch();
    this.#player?.stop();
    this.#player?.forget();
    this.marked = null;
    this.state = null;
    this.positionSec = null;
  }

  /** The phrase's own sound, for hearing it beside the take. */
  phraseSound(test: Task): Promise<Rendered> {
    if (!this.#shelf) throw new Error('no test has been started');
    const name = `phrase ${JSON.stringify([test.tempoBpm, written(test)?.phrase ?? test])}`;
    return this.#shelf.alone(name, () => handlerOf(test).target(test));
  }

  async #store(): Promise<void> {
    this.storing = true;
    try {
      await this.#edges.keeper.keep(this.state!, this.marked, this.programme);
    } finally {
      this.storing = false;
    }
  }

  #stand(done: boolean): void {
    const { programme } = this;
    this.#edges.stands({ programme, task: this.test!, manner: this.state!.manner, done });
  }

  #options(state: ProcedureState): SheetOptions {
    const { tempoFactor, half, settings: own, hearings } = state;
    return { tempoFactor, half, count: own.count, repeat: hearings };
  }

  async #sheet(name: SheetName, options: SheetOptions): Promise<Rendered> {
    const test = this.test!;
    const task = handlerOf(test);
    const key = JSON.stringify(options);
    const at = task.together.indexOf(name);
    if (at < 0) return this.#shelf!.alone(`${name} ${key}`, () => task.sheet(test, name, options));
    const all = () => task.together.map((each) => task.sheet(test, each, options));
    return (await this.#shelf!.together(key, all))[at]!;
  }

  #carryOut(command: ProcedureCommand): void {
    switch (command.type) {
      case 'play':
        void this.#play(command.playId, command.sheet, command.options);
        break;
      case 'stopPlayback':
        this.#player?.stop();
        this.positionSec = null;
        break;
      case 'startRecording':
        this.#player?.forget();
        this.#sound?.startRecording();
        break;
      case 'stopRecording':
        this.#recording = this.#sound!.stopRecording();
        this.#recording.catch(() => undefined);
        if (!command.keep) this.#recording = null;
        break;
      case 'startPractice':
        this.practice.start(command.lengthSec);
        break;
      case 'extendPractice':
        this.practice.extend(command.bySec);
        break;
      case 'keepAwake':
        this.#edges.keepAwake(command.on);
        break;
      case 'openTake':
        this.#openTake(command.longestSec);
        break;
      case 'listen':
        void this.#listen();
        break;
      case 'store':
        this.#unwatch();
        if (!this.unmarked) this.#stand(true);
        void this.#store();
        break;
      case 'next':
        this.#edges.next(this.programme, this.test!);
        break;
    }
  }

  async #play(playId: number, sheet: SheetName, options: SheetOptions): Promise<void> {
    const run = this.#run;
    const stillWanted = (): boolean => run === this.#run && this.state?.playing?.id === playId;
    let rendered: Rendered;
    try {
      rendered = await this.#sheet(sheet, options);
    } catch {
      if (stillWanted()) this.send({ type: 'problem', reason: 'context-suspended' });
      return;
    }
    if (!stillWanted()) return;
    this.liveMidi = null;
    const playback = this.#player!.start(rendered, {
      onMark: ({ label, index }) => this.send({ type: 'markReached', playId, label, index }),
      onEnded: () => {
        this.positionSec = null;
        this.send({ type: 'playbackEnded', playId });
      },
    });
    // The last pass is the one that counts.
    const start = rendered.marks.findLast((mark) => mark.label === 'takeStart');
    if (start) {
      this.#takeStart = { frame: playback.startFrame + start.atSec * rendered.sampleRate };
      this.#expectChords(this.#takeStart.frame);
    }
  }

  /** With help strokes are answered while they ring, unless a band would be heard as the player. */
  #expectChords(beatOneFrame: number): void {
    this.liveChord = null;
    const test = this.sounded!;
    const chords = handlerOf(test).chords?.(test);
    if (!chords || this.state?.manner !== 'relaxed') return;
    if (!this.#edges.headphones && 'style' in test && test.style !== undefined) return;
    const sound = this.#sound!;
    const { sec: laterSec } = this.#edges.latency.now ?? sound.reportedLatency();
    const frame = (atSec: number): number => beatOneFrame + (atSec + laterSec) * sound.sampleRate;
    sound.expectChords({
      asked: chords.asked.map(({ chord, fromSec, toSec }) => ({
        chord,
        fromFrame: frame(fromSec),
        toFrame: frame(toSec),
      })),
      lowest: Math.min(...test.tuning),
      driven: chords.driven,
    });
  }

  /** A take that begins when the player is ready: it is found in what is recorded from here on. */
  #openTake(longestSec: number): void {
    this.#takeStart = { frame: this.#sound!.frame };
    this.practice.start(longestSec);
  }

  async #listen(): Promise<void> {
    const run = this.#run;
    const test = this.sounded!;
    this.progress = 0;
    try {
      const recording = await this.#recording!;
      const heard = await hearTake(
        this.#sound!,
        {
          recording,
          instrument: test.instrument,
          tuning: test.tuning,
          beatOneFrame: this.#takeStart!.frame,
          span: handlerOf(test).span(test),
          chords: handlerOf(test).chords?.(test),
          sounded: this.#player!.sounded,
          headphones: this.#edges.headphones,
          latency: this.#edges.latency.now ?? { ...this.#sound!.reportedLatency(), source: 'reported' },
        },
        (share) => (this.progress = share),
      );
      if (run !== this.#run) return;
      const { take, zeroSample } = heard;
      if (heard.latency.source === 'loudspeaker') this.#edges.latency.learn(heard.latency);
      const kept = latencyToKeep(heard.latency);
      const thresholds = this.#edges.keeper.thresholds(this.programme);
      this.marked = {
        test,
        take,
        mark: markTask(test, take, {
          latencyUncertaintyMs: unknownMs(kept),
          ...(thresholds ? { thresholds } : {}),
        }),
        latency: kept,
        sound: { recording, zeroSample },
      };
      this.send({ type: 'heard' });
    } catch {
      if (run === this.#run) this.send({ type: 'problem', reason: 'listener-failed' });
    }
  }

  /** Names a note heard now, unless it may be the app's own sound. */
  #name(event: LiveEvent): void {
    if (event.type === 'chord') this.liveChord = event;
    if (event.type === 'revoked') this.liveMidi = null;
    if (event.type !== 'note') return;
    const { sampleRate } = this.#sound!;
    const latencySec = (this.#edges.latency.now ?? this.#sound!.reportedLatency()).sec;
    const players =
      this.#edges.headphones ||
      mayBePlayers(this.#player!.sounded, event.atFrame, { sampleRate, latencySec });
    this.liveMidi = players ? event.midi : null;
  }

  #watch(): void {
    this.#unwatch();
    this.#endNames = this.#edges.onLive((event) => this.#name(event));
    this.#guard = watch(
      this.#edges,
      () => this.#sound?.state === 'running',
      (reason) => this.send({ type: 'problem', reason }),
    );
    this.#endPictures = this.#edges.onPicture(() => {
      if (this.playing) this.#guard?.check();
      this.#player?.tick();
      this.positionSec = this.#player?.positionSec ?? null;
      if (this.practice.tick())
        this.send({ type: this.state?.step === 'take' ? 'takeEnded' : 'practiceEnded' });
    });
  }

  #unwatch(): void {
    this.#endPictures?.();
    this.#endPictures = null;
    this.#endNames?.();
    this.#endNames = null;
    this.liveMidi = null;
    this.liveChord = null;
    this.#sound?.expectChords(null);
    this.#guard?.end();
    this.#guard = null;
  }
}
