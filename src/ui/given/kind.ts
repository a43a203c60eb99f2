import { isMidi } from '../../exchange/index.ts';
import { kindOfOwn } from '../../store/index.ts';

/** What the app does with a file that the system handed it. */
export type GivenKind = 'backup' | 'homework' | 'results' | 'music' | 'sound';

const MUSIC = /\.(musicxml|mxl|xml|midi?)$/i;
const SOUND = /\.(wav|wave|flac|mp3|m4a|aac|ogg|oga|opus)$/i;

/** By what it begins with, else by what it is called; null for what no page opens. */
export function kindOf(bytes: Uint8Array, name: string): GivenKind | null {
  const own = kindOfOwn(bytes);
  if (own !== null) return own;
  if (isMidi(bytes) || MUSIC.test(name)) return 'music';
  return SOUND.test(name) ? 'sound' : null;
}

/** What stands after `#` of the first link in a text that leads to homework, results or a test; null without one. */
export function linkIn(text: string): string | null {
  return /#((?:homework|results|test)=[A-Za-z0-9_-]+)/.exec(text)?.[1] ?? null;
}
