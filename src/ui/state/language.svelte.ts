import type { Language, NoteValues } from '../firstMessages.ts';
import { speak, spoken } from '../firstMessages.ts';
import { change, settings } from '../settings/settings.svelte.ts';

let times = $state(0);

/** Grows whenever another language is spoken: what is keyed by it is built anew, so that no text stays behind. */
export const language = {
  get changes(): number {
    return times;
  },
};

/** What of the settings is in the words on the screen. */
const inWords = (): string => {
  const { language: chosen, noteValues, noteNames } = settings.now;
  return [chosen, noteValues, noteNames].join();
};
let shown = '';

function built(): void {
  document.documentElement.lang = spoken();
  shown = inWords();
  times += 1;
}

/** Shows the app in what another tab has chosen meanwhile; call it whenever the settings may have changed. */
export function followSettings(): void {
  if (inWords() !== shown) void showInOwn();
}

/** Shows the app as the settings say; in English where a language’s texts cannot be fetched now. */
export async function showInOwn(): Promise<void> {
  const { language: chosen, noteValues } = settings.now;
  await speak(chosen, noteValues).catch(() => speak('en', noteValues));
  built();
}

/** Shows the app so from now on, and remembers it; false where the texts cannot be fetched: then nothing has changed. */
export async function showIn(chosen: Language, values: NoteValues): Promise<boolean> {
  try {
    await speak(chosen, values);
  } catch {
    return false;
  }
  change({ language: chosen, noteValues: values });
  built();
  return true;
}

/** What is said in names of notes has changed: all that is shown is built anew. */
export const rename = built;
