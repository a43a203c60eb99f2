import type { Language } from '../messages.ts';
import { speak, spoken } from '../messages.ts';

let times = $state(0);

/** Grows whenever another language is spoken: what is keyed by it is built anew, so that no text stays behind. */
export const language = {
  get changes(): number {
    return times;
  },
};

/** Shows the app in `chosen`; English stays where its texts cannot be fetched. */
export async function showIn(chosen: Language): Promise<void> {
  await speak(chosen).catch(() => speak('en'));
  document.documentElement.lang = spoken();
  times += 1;
}
