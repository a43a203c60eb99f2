import { registerSW } from 'virtual:pwa-register';
import { session } from './session.svelte.ts';

/**
 * Keeps the app for use without a network. A new version is put in place only while the page is hidden and
 * no test is open; else the next visit brings it.
 */
export function keepOffline(): void {
  if (!('serviceWorker' in navigator)) return;
  const update = registerSW({
    onNeedRefresh() {
      const whenIdle = (): void => {
        if (document.visibilityState !== 'hidden' || session.state !== null) return;
        document.removeEventListener('visibilitychange', whenIdle);
        void update(true);
      };
      document.addEventListener('visibilitychange', whenIdle);
      whenIdle();
    },
  });
}
