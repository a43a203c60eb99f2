import type { Playback } from '../../audio/types.ts';
import { session } from '../session.svelte.ts';
import { mineAlone, mixed } from '../session/listenBack.ts';
import type { Marked } from '../session/types.ts';
import { ears } from '../state/ears.svelte.ts';
import { secToTicks } from '../../music/units.ts';

export type Voice = 'target' | 'mine' | 'both';

/** Plays the phrase, the take, or both, and tells where it stands. */
export class Listening {
  now = $state<Voice | null>(null);
  /** Where the sound stands in the phrase, or null. */
  atTicks = $state<number | null>(null);
  #playback: Playback | null = null;
  #picture = 0;

  async play(voice: Voice, { test, sound }: Marked): Promise<void> {
    this.stop();
    this.now = voice;
    const phrase = await session.phraseSound(test);
    if (this.now !== voice || !ears.sound) return;
    const leadSec = phrase.marks.find(({ label }) => label === 'phrase')!.atSec;
    const mine = (): Float32Array<ArrayBuffer> => mineAlone(sound, phrase, leadSec);
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
