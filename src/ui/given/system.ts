import { given } from './given.svelte.ts';

/** https://wicg.github.io/web-app-launch/#launchqueue-interface; Chromium alone has it. */
interface LaunchQueue {
  setConsumer(consumer: (launched: { readonly files: readonly FileSystemFileHandle[] }) => void): void;
}
declare global {
  interface Window {
    readonly launchQueue?: LaunchQueue;
  }
}

/** Where `public/receive.js` puts what another app has shared. */
const SHARED = 'shared';

/** Takes in each file that is opened with the installed app, also what it was started with. */
export function followLaunches(): void {
  window.launchQueue?.setConsumer(({ files: [first] }) => {
    if (first) void first.getFile().then(given.file);
  });
}

/**
 * Takes in what another app has shared, once.
 * @returns what is wrong with it: nothing was shared, or a text without a link of this app; null where it is taken
 */
export async function takeShared(): Promise<'nothing' | 'no-link' | null> {
  if (!('caches' in window) || !(await caches.has(SHARED))) return 'nothing';
  const cache = await caches.open(SHARED);
  const [file, text] = await Promise.all([cache.match('./shared-file'), cache.match('./shared-text')]);
  await caches.delete(SHARED);
  if (file) {
    const name = decodeURIComponent(file.headers.get('X-Name') ?? '');
    await given.file(new File([await file.blob()], name));
    return null;
  }
  return text && given.text(await text.text()) ? null : text ? 'no-link' : 'nothing';
}
