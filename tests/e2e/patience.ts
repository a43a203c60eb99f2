import { PACE } from '../support/simulated-player.ts';

/**
 * How long anything is waited for: of use only where something is broken, so long enough for a machine of which little is
 * left; at true speed for a page’s 90 s as well.
 */
export const PATIENCE = { timeout: PACE === 1 ? 300_000 : 150_000 };
