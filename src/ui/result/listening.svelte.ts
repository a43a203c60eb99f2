import type { Playback, Rendered } from '../../audio/types.ts';
import type { Task } from '../../music/task.ts';
import { handlerOf } from '../../tests-engine/index.ts';
import { mineAlone, mixed, type Heard } from '../session/listenBack.ts';
import { ears, problemCode } from '../state/ears.svelte.ts';
import { secToTicks } from '../../music/units.ts';

export type Voice = 'target' | 'mine' | 'both';

/** The phrase of a test that is not being taken. */
const rendered = async (test: Task): Promise<Rendered> =>
  (await ears.open()).render(handlerOf(test).target(test));

/** Plays the phrase, the take, or both, and tells where it stands. */
export class Listening {
  now = $state<Voice | null>(null);
  /** Where the sound stands in the phrase, or null. */
  atTicks = $state<number | null>(null);
  #playback: Playback | null = null;
  #picture = 0;
  #phraseOf: (test: Task) => Promise<Rendered>;

  /** @param phraseOf the sound of a test's phrase; made anew where nothing else has it */
  constructor(phraseOf = rendered) {
    this.#phraseOf = phraseOf;
  }

  /** @param sound of the take; null where none was kept: then only the target can be played. */
  async play(voice: Voice, test: Task, sound: Heard | null): Promise<void> {
    this.stop();
    this.now = voice;
    let phrase: Rendered;
    try {
      phrase = await this.#phraseOf(test);
    } catch (error) {
      this.stop();
      ears.problem = problemCode(error);
      if (ears.problem === null) throw error;
      return;
    }
    if (this.now !== voice || !ears.sound) return;
    const leadSec = phrase.marks.find(({ label }) => label === 'phrase')!.atSec;
    const mine = (): Float32Array<ArrayBuffer> =>
      sound ? mineAlone(sound, phrase, leadSec) : new Float32Array(phrase.samples.length);
    const samples =
      voice === 'target' ? phrase.samples : voice === 'mine' ? mine() : mixed(phrase.samples, mine());
    const playback = ears.sound.play({ samples, sampleRate: phrase.sampleRate });
    this.#playback = playback;
    const picture = (): void => {
      this.atTicks = secToTicks(playback.positionSec() - leadSec, test.tempoBpm);
      this.#picture = requestAnimationFrame(picture);
    };
    picture();
    void playback.ended.then(() => {
      if (this.#playback === playback) this.stop();
    });
  }

  stop(): void {
    cancelAnimationFrame(this.#picture);
    this.#playback?.stop();
    this.#playback = null;
    this.now = null;
    this.atTicks = null;
  }
}
