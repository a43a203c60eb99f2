import type { Language, NoteValues } from '../messages.ts';
import { speak, spoken } from '../messages.ts';
import { change, settings } from '../settings/settings.svelte.ts';

let times = $state(0);

/** Grows whenever another language is spoken: what is keyed by it is built anew, so that no text stays behind. */
export const language = {
  get changes(): number {
    return times;
  },
};

function built(): void {
  document.documentElement.lang = spoken();
  times += 1;
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
