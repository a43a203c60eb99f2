import type { Playback, Rendered, Sound } from '../../audio/types.ts';
import type { CueSheet, SheetMark } from '../../music/score.ts';

/** Something that went to the loudspeaker, on the context's frame counter. */
export interface Sounded {
  readonly samples: Float32Array<ArrayBuffer>;
  readonly startFrame: number;
  /** How many of the samples sounded before it was stopped. */
  length: number;
}

export interface PlayingReports {
  onMark(mark: SheetMark): void;
  onEnded(): void;
}

/**
 * Plays one rendered sheet at a time and reports the marks that it passes. The sound's own clock decides
 * when anything sounds; `tick`, called with each picture, only tells the screen how far it has come.
 */
export class Playing {
  readonly #sound: Sound;
  #now: {
    playback: Playback;
    rendered: Rendered;
    sounded: Sounded;
    reports: PlayingReports;
    next: number;
  } | null = null;
  /** Everything that sounded since `forget`, for taking the backing out of the take. */
  sounded: Sounded[] = [];

  constructor(sound: Sound) {
    this.#sound = sound;
  }

  start(rendered: Rendered, reports: PlayingReports): Playback {
    this.stop();
    const playback = this.#sound.play(rendered);
    const sounded: Sounded = {
      samples: rendered.samples,
      startFrame: playback.startFrame,
      length: rendered.samples.length,
    };
    this.sounded.push(sounded);
    const mine = { playback, rendered, sounded, reports, next: 0 };
    this.#now = mine;
    void playback.ended.then((how) => {
      if (this.#now !== mine || how !== 'finished') return;
      this.tick(Infinity);
      this.#now = null;
      reports.onEnded();
    });
    return playback;
  }

  stop(): void {
    const now = this.#now;
    if (!now) return;
    this.#now = null;
    const heard = Math.round(now.playback.positionSec() * now.rendered.sampleRate);
    now.sounded.length = Math.max(0, Math.min(now.rendered.samples.length, heard));
    now.playback.stop();
  }

  forget(): void {
    this.sounded = [];
  }

  get positionSec(): number | null {
    return this.#now?.playback.positionSec() ?? null;
  }

  get marks(): readonly SheetMark[] {
    return this.#now?.rendered.marks ?? [];
  }

  /** Reports the marks that lie before `positionSec` and were not reported yet. */
  tick(positionSec: number | null = this.positionSec): void {
    const now = this.#now;
    if (!now || positionSec === null) return;
    const { marks } = now.rendered;
    while (now.next < marks.length && marks[now.next]!.atSec <= positionSec && this.#now === now) {
      now.next += 1;
      now.reports.onMark(marks[now.next - 1]!);
    }
  }
}

/**
 * The sounds of one test, each rendered once. Hearing and performance are rendered together, so that the
 * backing is as loud in both; what is asked for later takes their gain.
 */
export class SheetShelf {
  readonly #sound: Sound;
  readonly #pairs = new Map<string, Promise<readonly Rendered[]>>();
  readonly #single = new Map<string, Promise<Rendered>>();

  constructor(sound: Sound) {
    this.#sound = sound;
  }

  /** `name` names what the sheets depend on; they are made when they are not there yet at the volumes wanted now. */
  together(name: string, sheets: () => readonly CueSheet[]): Promise<readonly Rendered[]> {
    return kept(this.#pairs, this.#place(name), () => this.#sound.renderTogether(sheets()));
  }

  alone(name: string, sheet: () => CueSheet): Promise<Rendered> {
    return kept(this.#single, this.#place(name), async () => {
      const pair = [...this.#pairs].find(([place]) => place.startsWith(this.#place('')))?.[1];
      const gainDb = (await pair)?.[0]?.gainDb;
      return this.#sound.render(sheet(), gainDb === undefined ? {} : { gainDb });
    });
  }

  #place(name: string): string {
    return `${JSON.stringify(this.#sound.balance ?? null)} ${name}`;
  }

  clear(): void {
    this.#pairs.clear();
    this.#single.clear();
  }
}

function kept<T>(made: Map<string, Promise<T>>, name: string, make: () => Promise<T>): Promise<T> {
  let promise = made.get(name);
  if (!promise) {
    promise = make();
    made.set(name, promise);
    // What failed (a sound that could not be fetched) may be tried again.
    promise.catch(() => made.delete(name));
  }
  return promise;
}
