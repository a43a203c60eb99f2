/** What the app does with a file that the system handed it. */
export type GivenKind = 'backup' | 'homework' | 'results' | 'music' | 'sound';

/** First bytes of Twobar's own files (`store/backup/container.ts`); the eleventh byte says what they hold. */
const OWN = [0x54, 0x57, 0x4f, 0x42, 0x41, 0x52, 0x1a, 0x0a];
const OWN_KINDS: readonly (GivenKind | undefined)[] = [undefined, 'backup', 'homework', 'results'];
const MIDI = [0x4d, 0x54, 0x68, 0x64];
const MUSIC = /\.(musicxml|mxl|xml|midi?)$/i;
const SOUND = /\.(wav|wave|flac|mp3|m4a|aac|ogg|oga|opus)$/i;

const begins = (bytes: Uint8Array, by: readonly number[]): boolean =>
  by.every((byte, i) => bytes[i] === byte);

/** By what it begins with, else by what it is called; null for what no page opens. */
export function kindOf(bytes: Uint8Array, name: string): GivenKind | null {
  if (begins(bytes, OWN)) return OWN_KINDS[bytes[10] ?? 0] ?? null;
  if (begins(bytes, MIDI) || MUSIC.test(name)) return 'music';
  return SOUND.test(name) ? 'sound' : null;
}

/** What stands after `#` of the first link in a text that leads to homework, results or a test; null without one. */
export function linkIn(text: string): string | null {
  return /#((?:homework|results|test)=[A-Za-z0-9_-]+)/.exec(text)?.[1] ?? null;
}
