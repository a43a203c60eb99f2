import type { MicrophoneInfo } from '../../audio/types.ts';
import type { OverBacking } from '../session/hearOver.ts';
import type { Latency } from '../session/types.ts';
import { settings } from '../settings/settings.svelte.ts';
import type { Output } from '../settings/types.ts';
import { ears } from './ears.svelte.ts';

interface Kept {
  /** A microphone opened again, even the same one, has another latency. */
  readonly microphone: MicrophoneInfo;
  readonly output: Output;
  readonly latency: Latency | null;
  readonly over: OverBacking | null;
}

/** What was measured since the sound was opened as it is now. Another device, or the same opened again: unknown. */
class KnownLatency {
  #kept = $state.raw<Kept | null>(null);

  constructor() {
    // Headphones plugged in or out change the way of the sound without a new microphone.
    globalThis.navigator?.mediaDevices?.addEventListener?.('devicechange', () => this.forget());
  }

  get now(): Latency | null {
    return this.#valid?.latency ?? null;
  }
  /** How well the player was heard over the backing in the sound check. */
  get over(): OverBacking | null {
    return this.#valid?.over ?? null;
  }

  learn(latency: Latency | null, over: OverBacking | null = this.over): void {
    const { microphone } = ears;
    if (microphone) this.#kept = { microphone, output: settings.now.output, latency, over };
  }
  forget(): void {
    this.#kept = null;
  }

  get #valid(): Kept | null {
    const kept = this.#kept;
    return kept && kept.microphone === ears.microphone && kept.output === settings.now.output ? kept : null;
  }
}

export const latency = new KnownLatency();
