/** Resolves once the page as it is now has been drawn. */
export const afterPicture = (): Promise<void> =>
  new Promise((resolve) => {
    requestAnimationFrame(() => setTimeout(resolve));
  });

/**
 * Whoever has just come, or just pressed something, is likely to press next, and is not to wait for what may as well be done
 * later: on a weak machine a piece takes up to half a second.
 */
const QUIET_MS = 2500;
/** Of the last press; the page's own beginning is the first. */
let pressedAtMs = 0;
for (const kind of ['pointerdown', 'keydown'] as const)
  globalThis.addEventListener?.(kind, () => (pressedAtMs = performance.now()), {
    capture: true,
    passive: true,
  });

const idle = (): Promise<void> =>
  new Promise((resolve) => {
    // Safari has no idle callback: there a moment later, which is after the picture at least.
    if ('requestIdleCallback' in window) requestIdleCallback(() => resolve());
    else setTimeout(resolve, 100);
  });

/** Resolves while the page has nothing else to do, and nobody has come or pressed anything for a moment. */
export async function rest(): Promise<void> {
  for (;;) {
    await idle();
    const leftMs = pressedAtMs + QUIET_MS - performance.now();
    if (leftMs <= 0) return;
    await new Promise((resolve) => setTimeout(resolve, leftMs));
  }
}
