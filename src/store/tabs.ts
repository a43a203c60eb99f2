/**
 * Which tabs are open. Each holds a Web Lock named after its random id as long as it lives; the browser
 * lets go of it however the tab ends, a crash included.
 */
const PREFIX = 'twobar-tab-';

/** Holds this tab's lock until `release` is called or the tab ends. */
export function holdTab(tab: string): { readonly release: () => void } {
  let release = () => {};
  const held = new Promise<void>((resolve) => (release = resolve));
  // Where there are no locks, drafts of other tabs count as lost at once: a false alarm, never a silent loss.
  void navigator.locks?.request(PREFIX + tab, () => held).catch(() => {});
  return { release };
}

/** Ids of the tabs that are open now, this one included. */
export async function heldTabs(): Promise<ReadonlySet<string>> {
  const { held = [] } = (await navigator.locks?.query()) ?? {};
  return new Set(held.flatMap(({ name }) => (name?.startsWith(PREFIX) ? [name.slice(PREFIX.length)] : [])));
}
