import type { LiveEvent } from '../../audio/types.ts';

type Reason = 'hidden' | 'call' | 'microphone-unplugged' | 'context-suspended';

/**
 * Watches what would make a take unfair: a hidden page, a paused context, a microphone that
 * goes away or is taken by a call.
 * @param isRunning whether the context runs; asked with each picture through `check`.
 */
export function watch(
  onLive: (listener: (event: LiveEvent) => void) => () => void,
  isRunning: () => boolean,
  report: (reason: Reason) => void,
): { check(): void; end(): void } {
  const hidden = (): void => {
    if (document.visibilityState === 'hidden') report('hidden');
  };
  document.addEventListener('visibilitychange', hidden);
  const endLive = onLive((event) => {
    if (event.type !== 'problem') return;
    if (event.code === 'microphone-unplugged' || event.code === 'context-suspended') report(event.code);
    // The system mutes the track while a call or another program has the microphone.
    else if (event.code === 'microphone-busy') report('call');
  });
  return {
    check() {
      if (!isRunning()) report('context-suspended');
    },
    end() {
      document.removeEventListener('visibilitychange', hidden);
      endLive();
    },
  };
}

/** Keeps the screen on while it can; a browser that will not is no reason to stop. */
export class StayAwake {
  #lock: WakeLockSentinel | null = null;
  #wanted = false;

  set(on: boolean): void {
    this.#wanted = on;
    if (!on) {
      void this.#lock?.release().catch(() => undefined);
      this.#lock = null;
    } else if (!this.#lock)
      void navigator.wakeLock
        ?.request('screen')
        .then((lock) => {
          if (this.#wanted) this.#lock = lock;
          else void lock.release();
        })
        .catch(() => undefined);
  }
}
