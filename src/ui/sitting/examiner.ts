import type { Language } from '../messages.ts';
import { hush as hushVoice, say } from '../scales/say.ts';
import SPOKEN from './voice/spoken.json';

/** Made by `audio-fixtures/app-sounds/examiner.ts`; fetched one by one when they are wanted, and kept then. */
const FILES = import.meta.glob<string>('./voice/*.mp3', { eager: true, query: '?url', import: 'default' });

/** Where a sentence is recorded, word by word; null: nowhere. */
export function recordedAt(text: string, language: Language): string | null {
  const own: Readonly<Record<string, string>> = SPOKEN[language];
  const found = Object.entries(own).find(([, words]) => words === text);
  return (found && FILES[`./voice/examiner-${language}-${found[0]}.mp3`]) ?? null;
}

let sounding: HTMLAudioElement | null = null;
/** Which sentence is the last one: one that arrives late is not said over it. */
let turn = 0;

export function hush(): void {
  turn++;
  sounding?.pause();
  sounding = null;
  hushVoice();
}

/**
 * Says an examiner's sentence in place of what is being said: the recorded one, or, of other words and where it cannot be
 * had, by a voice of the machine itself.
 */
export async function sayAsExaminer(text: string, language: Language): Promise<void> {
  hush();
  const mine = turn;
  const url = recordedAt(text, language);
  try {
    // Fetched whole first: that is what is kept for the next time without a network.
    if (!url || !(await fetch(url)).ok) throw new Error('not recorded');
    if (mine !== turn) return;
    sounding = new Audio(url);
    await sounding.play();
  } catch {
    if (mine === turn) say(text, language);
  }
}
