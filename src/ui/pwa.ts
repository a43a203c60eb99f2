import { registerSW } from 'virtual:pwa-register';
import { watchBusy } from './state/busy.svelte.ts';

/** Held, shared, by every tab that a reload would cost something; an update waits until nobody holds it. */
const BUSY = 'twobar-busy';
/** A new version takes over in a moment; for so long no tab counts as free. */
const TAKES_OVER_MS = 5000;

/**
 * Keeps the app for use without a network. A new version takes over every tab at once, so it is put in place only
 * while this page is hidden and no tab is in a test or holds what is not saved; a tab that became busy in that very
 * moment is not reloaded before it is free again. Else the next visit brings it.
 */
export function keepOffline(): void {
  if (!('serviceWorker' in navigator)) return;
  let busy = false;
  let release = (): void => {};
  let waiting = false;
  let overdue = false;
  const look = (): void => {
    if (busy || document.visibilityState !== 'hidden') return;
    if (overdue) location.reload();
    else if (waiting) void put();
  };
  const put = async (): Promise<void> => {
    // Without locks no other tab can be asked: then the new version waits for the next visit.
    await navigator.locks?.request(BUSY, { ifAvailable: true }, async (free) => {
      if (!free || busy) return;
      waiting = false;
      await update(true);
      await new Promise((resolve) => setTimeout(resolve, TAKES_OVER_MS));
    });
  };
  watchBusy((now) => {
    busy = now;
    release();
    release = () => {};
    if (now)
      void navigator.locks
        ?.request(BUSY, { mode: 'shared' }, () => new Promise<void>((resolve) => (release = resolve)))
        .catch(() => undefined);
    else look();
  });
  document.addEventListener('visibilitychange', look);
  const update = registerSW({
    onNeedRefresh() {
      waiting = true;
      look();
    },
    onNeedReload() {
      overdue = true;
      look();
    },
  });
}
