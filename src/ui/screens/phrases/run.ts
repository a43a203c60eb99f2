import type { PracticeTest } from '../../../music/score.ts';
import type { Programme } from '../../../tests-engine/index.ts';
import { play } from '../../programme/goOn.ts';
import { session } from '../../session.svelte.ts';
import { settings } from '../../settings/settings.svelte.ts';
import { readyToPlay } from '../../state/ready.ts';
import { route } from '../../state/route.svelte.ts';

/**
 * Begins this very test, in the manner of the settings; `programme` says what comes after it. Where something of the sound check is still to be
 * answered that comes first, and then this page again.
 */
export function runTest(test: PracticeTest, programme: Programme): void {
  const here = `#${route.now.hash}`;
  if (!readyToPlay()) return comeBack(here);
  play(session, test, settings.now.manner, programme);
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
