import { play } from '../programme/goOn.ts';
import { session } from '../session.svelte.ts';
import { settings } from '../settings/settings.svelte.ts';
import { linked } from '../state/linked.svelte.ts';
import { pageAsked } from '../state/route.svelte.ts';
import { freshSeed, prepareFor, testFor } from './choose.ts';

let beginning = false;

/** Begins what the first page has chosen, also from a sound check that took its place. */
export async function begin(): Promise<void> {
  if (beginning) return;
  beginning = true;
  const stillHere = pageAsked();
  // What the sound check changed (instrument, tuning) holds for the test.
  // What a link names is the very same test everywhere: key and position of this machine do not change it.
  const chosen = { ...settings.now, ...(linked.now && { ...linked.now, key: null, position: null }) };
  await prepareFor(chosen);
  beginning = false;
  // Whoever went elsewhere meanwhile stays there.
  if (!stillHere()) return;
  const test = testFor(chosen, linked.now?.seed ?? freshSeed());
  linked.take(null);
  play(session, test, chosen.manner, { from: 'start' });
}
