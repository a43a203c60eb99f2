import type { PracticeTest } from '../../../music/score.ts';
import { record } from '../../record/record.svelte.ts';
import { follow, type Next } from '../../session/following.ts';
import { session } from '../../session.svelte.ts';
import { settings } from '../../settings/settings.svelte.ts';
import { readyToPlay } from '../../state/ready.ts';
import { go, route } from '../../state/route.svelte.ts';

/**
 * Begins this very test, in the manner of the settings; `next` makes those after it. Where something of the sound check is still to be
 * answered that comes first, and then this page again.
 */
export function runTest(test: PracticeTest, next: Next | null = null): void {
  const here = `#${route.now.hash}`;
  if (!readyToPlay()) return comeBack(here);
  record.homework = null;
  record.adaptive = false;
  if (next) follow(test, next);
  go('test');
  void session.begin(test, settings.now.manner);
}

function comeBack(here: string): void {
  const onward = (): void => {
    if (location.hash.startsWith('#/check')) return;
    window.removeEventListener('hashchange', onward);
    // Whoever went elsewhere meanwhile stays there.
    if (settings.now.checked && /^#?\/?$/.test(location.hash)) location.hash = here;
  };
  window.addEventListener('hashchange', onward);
}
