import { players } from '../record/record.svelte.ts';
import { settings } from '../settings/settings.svelte.ts';
import { latency } from './latency.svelte.ts';
import { go, goTo, route } from './route.svelte.ts';

/** A test asked for while something was still to be answered. */
interface Asked {
  /** The page that it was asked for on. */
  readonly hash: string;
  readonly begin: () => void;
}
let waiting: Asked | null = null;

/**
 * What must be answered before a test may begin, as an address; null: nothing. Who plays, where several could and
 * nobody was chosen; the sound check, once; with headphones the latency, each time the sound was opened or a device has
 * changed (over loudspeakers the take itself tells it).
 */
function unanswered(): string | null {
  if (players.mustAsk) return '/who';
  if (!settings.now.checked) return '/check';
  return settings.now.output === 'headphones' && latency.now === null ? '/check/latency' : null;
}

/** Begins a test; where something is still to be answered, after that, without being asked for again. */
export function whenReady(begin: () => void): void {
  const place = unanswered();
  if (place === null) return begin();
  waiting = { hash: route.now.hash, begin };
  location.hash = `#${place}`;
}

/** What waits for an answer. */
export const asked = {
  /** One thing is answered; what is next to be answered follows, or the test. */
  goOn(): void {
    const before = waiting;
    if (!before) return go('start', true);
    const place = unanswered();
    if (place) return goTo(place, true);
    asked.done();
  },
  /**
   * The sound check is through: on to what was asked for, or to the start. What was skipped in it is not asked again.
   */
  done(): void {
    const before = waiting;
    waiting = null;
    goTo(before?.hash ?? '', true);
    before?.begin();
  },
  /** The player turned back or went elsewhere: nothing begins by itself any more. @returns where it was asked for. */
  forget(): string | null {
    const before = waiting;
    waiting = null;
    return before?.hash ?? null;
  },
};
