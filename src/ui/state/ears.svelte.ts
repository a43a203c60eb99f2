import type { AudioProblemCode, LiveEvent, MicrophoneInfo, Sound } from '../../audio/types.ts';
import { AUDIO_PROBLEMS } from '../firstMessages.ts';
import { settings } from '../settings/settings.svelte.ts';

/** The code of a problem that audio threw, or null for any other error. */
export function problemCode(error: unknown): AudioProblemCode | null {
  const code = (error as { code?: unknown } | null)?.code;
  return typeof code === 'string' && Object.hasOwn(AUDIO_PROBLEMS, code) ? (code as AudioProblemCode) : null;
}

/** Sound and microphone as the screens see them. Opened by the first gesture that needs them. */
class Ears {
  sound = $state.raw<Sound | null>(null);
  microphone = $state.raw<MicrophoneInfo | null>(null);
  problem = $state.raw<AudioProblemCode | null>(null);
  level = $state.raw<Extract<LiveEvent, { type: 'level' }> | null>(null);
  tuner = $state.raw<Extract<LiveEvent, { type: 'tuner' }> | null>(null);
  #opening: Promise<Sound> | null = null;
  #listeners = new Set<(event: LiveEvent) => void>();

  /** The sounds could not be fetched: nothing can be played, though the microphone may be on. */
  get unfetched(): boolean {
    return this.problem === 'assets-missing';
  }

  /** The one Sound; opened on first call, which must come from a gesture. */
  async open(): Promise<Sound> {
    this.#opening ??= import('../../audio/index.ts')
      .then(({ openSound }) => openSound())
      .catch((error: unknown) => {
        this.#opening = null;
        throw error;
      });
    try {
      const sound = await this.#opening;
      sound.setBalance?.(settings.now.volume);
      if (sound.state === 'suspended') await sound.resume();
      if (!this.sound) {
        this.sound = sound;
        sound.onLive((event) => this.#take(event));
      }
      return sound;
    } catch (error) {
      this.problem = problemCode(error);
      throw error;
    }
  }

  /** Opens the microphone that the settings name. Problems are shown, not thrown; null when it stays shut. */
  async listen(): Promise<MicrophoneInfo | null> {
    try {
      const sound = await this.open();
      const { deviceId, channel, instrument } = settings.now;
      this.microphone = await sound.openMicrophone({
        ...(deviceId === null ? {} : { deviceId }),
        channel,
        instrument,
      });
      this.problem = null;
    } catch (error) {
      this.microphone = null;
      this.problem = problemCode(error);
      if (this.problem === null) throw error;
    }
    return this.microphone;
  }

  shut(): void {
    this.sound?.closeMicrophone();
    this.microphone = null;
    this.level = null;
    this.tuner = null;
  }

  /** Hears live events beside the fields above; returns what ends it. */
  onLive(listener: (event: LiveEvent) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  #take(event: LiveEvent): void {
    if (event.type === 'level') this.level = event;
    else if (event.type === 'tuner') this.tuner = event;
    else if (event.type === 'problem') {
      this.problem = event.code;
      if (event.code === 'microphone-unplugged') this.microphone = null;
    }
    for (const listener of this.#listeners) listener(event);
  }
}

export const ears = new Ears();
