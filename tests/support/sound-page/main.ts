import { openSound } from '../../../src/audio/index.ts';
import type { Sound } from '../../../src/audio/index.ts';

/** The door of `audio` and nothing else: what a test outside the page drives with `page.evaluate`. */
declare global {
  interface Window {
    openSound: () => Promise<Sound>;
  }
}
window.openSound = openSound;
