import { SvelteSet } from 'svelte/reactivity';

/**
 * What is being typed and not saved yet: notes, remarks, marks, levels. It lies in the page's own storage, written
 * with every key, so that neither an update, a reload nor a crash takes it; it goes when it is saved or given up.
 */
const PREFIX = 'twobar.typed.';

/** Names under which this page holds text that is not saved. */
const here = new SvelteSet<string>();

export const typing = {
  /** True while this page holds text that is not saved: no update may reload it. */
  get now(): boolean {
    return here.size > 0;
  },
};

/** What was typed under this name and never saved; null when there is nothing. */
export function typedBefore(name: string): string | null {
  try {
    return localStorage.getItem(PREFIX + name);
  } catch {
    return null; // blocked storage: what is typed lives as long as the page
  }
}

/** Keeps what is typed; empty text, or text as it was saved, forgets it. */
export function keepTyped(name: string, text: string, saved = ''): void {
  const nothing = text === saved;
  if (nothing) here.delete(name);
  else here.add(name);
  try {
    if (nothing) localStorage.removeItem(PREFIX + name);
    else localStorage.setItem(PREFIX + name, text);
  } catch {
    // Full or blocked: nothing more can be done, and typing must go on.
  }
}

/** Forgets all that was typed under names with this part in them: a student's, an attempt's; '' = everything. */
export function forgetTyped(part = ''): void {
  for (const name of here) if (name.includes(part)) here.delete(name);
  try {
    for (const key of Object.keys(localStorage))
      if (key.startsWith(PREFIX) && key.includes(part)) localStorage.removeItem(key);
  } catch {
    // Blocked: then nothing was kept.
  }
}
