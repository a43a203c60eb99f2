import { settings } from '../settings/settings.svelte.ts';
import { latency } from './latency.svelte.ts';
import { go } from './route.svelte.ts';

/**
 * True where a test may begin. Else goes to what is still to be answered: the sound check, once; with headphones the
 * latency, each time the sound was opened or a device has changed (over loudspeakers the take itself tells it).
 */
export function readyToPlay(): boolean {
  if (!settings.now.checked) go('check');
  else if (settings.now.output === 'headphones' && latency.now === null) location.hash = '#/check/latency';
  else return true;
  return false;
}
