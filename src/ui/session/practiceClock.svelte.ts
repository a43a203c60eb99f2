/** The seconds of the practice window. A screen's clock: nothing that sounds hangs on it. */
export class PracticeClock {
  lengthSec = $state(0);
  leftSec = $state(0);
  #endsAtMs = 0;
  #running = false;

  start(lengthSec: number, nowMs = performance.now()): void {
    this.lengthSec = lengthSec;
    this.#endsAtMs = nowMs + lengthSec * 1000;
    this.#running = true;
    this.leftSec = lengthSec;
  }

  extend(bySec: number): void {
    this.#endsAtMs += bySec * 1000;
    this.lengthSec += bySec;
  }

  stop(): void {
    this.#running = false;
  }

  /** True once, when the window has run out. */
  tick(nowMs = performance.now()): boolean {
    if (!this.#running) return false;
    this.leftSec = Math.max(0, (this.#endsAtMs - nowMs) / 1000);
    if (this.leftSec > 0) return false;
    this.#running = false;
    return true;
  }
}
