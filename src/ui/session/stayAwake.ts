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
