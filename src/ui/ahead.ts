import { loadEngraver } from './engraving/load.ts';
import { rehearse } from './engraving/rehearse.ts';
import { OFTEN, SELDOM } from './pages.ts';
import { core } from './state/core.svelte.ts';
import { ears } from './state/ears.svelte.ts';
import { rest } from './state/rest.ts';
import { route } from './state/route.svelte.ts';

/**
 * Fetches what other pages are made of while the first one rests, so that a page opens at once when it is first
 * asked for: one piece in each rest, nothing more once a test or the sound check has begun or anything sounds (beside
 * it the way from loudspeaker to microphone was no constant). What cannot be fetched now is fetched when it is needed,
 * which then says so.
 */
export async function fetchAhead(): Promise<void> {
  const pieces: (() => Promise<unknown>)[] = [...OFTEN, loadEngraver, rehearse, rehearse, ...SELDOM];
  for (const fetch of pieces) {
    await rest();
    if (core.now?.session.state || ears.sound !== null || route.now.name === 'check') return;
    await fetch().catch(() => undefined);
  }
}
